using System.Net;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

public class WholeIntakeTests
{
    [Theory]
    [BothEngines]
    public async Task The_condition_is_kept_place_by_place_and_the_benches_see_it(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();

        var seen = await host.Bench.Get($"/v1/jobs/{label}");
        var intake = await host.Desk.Get($"/v1/jobs/{label}/intake");

        Assert.Equal(("lugs", "clear", "gorse scratches"), (seen.GetProperty("conditionGrid")[0].Text("place"), seen.GetProperty("conditionGrid")[0].Text("condition"), seen.GetProperty("conditionGrid")[0].Text("note")));
        Assert.Equal("never-fitted", seen.GetProperty("arrival").Text("seal"));
        Assert.Equal(12, seen.GetProperty("arrival").GetProperty("linksCounted").GetInt32());
        Assert.Equal("faulty", intake.GetProperty("arrival").GetProperty("functions")[0].Text("state"));
        Assert.False(seen.TryGetProperty("intake", out _));
    }

    [Theory]
    [InlineData("""{ "conditionGrid": [ { "place": "dial", "condition": "deep" }, { "place": "dial", "condition": "light" } ] }""", "/conditionGrid/1/place")]
    [InlineData("""{ "conditionGrid": [ { "place": "strap", "condition": "deep" } ] }""", "/conditionGrid/0/place")]
    [InlineData("""{ "conditionGrid": [ { "place": "dial", "condition": "awful" } ] }""", "/conditionGrid/0/condition")]
    [InlineData("""{ "conditionGrid": [ { "place": "dial" } ] }""", "/conditionGrid/0/condition")]
    [InlineData("""{ "arrival": { "running": "perhaps" } }""", "/arrival/running")]
    [InlineData("""{ "arrival": { "functions": [ { "function": "coffee", "state": "works" } ] } }""", "/arrival/functions/0/function")]
    [InlineData("""{ "arrival": { "functions": [ { "function": "rotor", "state": "works" }, { "function": "rotor", "state": "faulty" } ] } }""", "/arrival/functions/1/function")]
    [InlineData("""{ "arrival": { "linksCounted": -1 } }""", "/arrival/linksCounted")]
    [InlineData("""{ "arrival": { "seal": "wax" } }""", "/arrival/seal")]
    public async Task What_is_wrong_in_the_condition_is_named(string members, string pointer)
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn(Counter.LeastIntake);

        var whole = await (await host.Desk.PostJson("/v1/jobs", $$"""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, {{members.Trim()[1..]}}""")).Problem();
        var patch = await (await host.Desk.Patch($"/v1/jobs/{label}/intake", members, "*")).Problem();

        Assert.Equal([pointer], whole.Pointers);
        Assert.Equal([pointer], patch.Pointers);
    }

    [Theory]
    [BothEngines]
    public async Task The_label_is_read_back_from_this_watch_and_from_no_other(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var (label, other) = (await host.TakeIn(), await host.TakeIn());

        var early = await (await host.Desk.PostJson("/v1/jobs", $$"""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "labelScannedBack": "{{label}}" }""")).Problem();
        var wrong = await (await host.Desk.Patch($"/v1/jobs/{label}/intake", $$"""{ "labelScannedBack": "{{other}}" }""", "*")).Problem();
        await (await host.Desk.Patch($"/v1/jobs/{label}/intake", $$"""{ "labelScannedBack": "{{label.ToLowerInvariant()}}" }""", "*")).Json();

        Assert.Equal(["/labelScannedBack"], early.Pointers);
        Assert.Equal(["/labelScannedBack"], wrong.Pointers);
        Assert.Empty((await host.Desk.Get($"/v1/jobs/{label}")).GetProperty("missing").EnumerateArray());
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task The_same_patch_again_changes_nothing_also_where_it_holds_lists(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        const string Patch = """{ "conditionGrid": [ { "place": "bezel", "condition": "light" } ], "arrival": { "functions": [ { "function": "rotor", "state": "works" } ] } }""";

        using var first = await host.Desk.Patch($"/v1/jobs/{label}/intake", Patch, "*");
        using var again = await host.Desk.Patch($"/v1/jobs/{label}/intake", Patch, first.Headers.ETag!.Tag);
        using var late = await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "ownNumber": "A 1" }""", again.Headers.ETag!.Tag);

        Assert.Equal(first.Headers.ETag, again.Headers.ETag);
        Assert.Equal(HttpStatusCode.OK, late.StatusCode);
        Assert.Equal("A 1", (await late.Json()).Text("ownNumber"));
    }

    [Theory]
    [BothEngines]
    public async Task A_polish_is_asked_for_at_intake_and_again_before_case_work(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn(Counter.WholeIntake.Replace("\"polish\": \"no\"", "\"polish\": \"yes\""));
        await host.Approve(label);
        await host.Say(label, "stage.finished", """{ "stage": "takedown", "person": "mara" }""");
        await host.Say(label, "stage.finished", """{ "stage": "case-strip", "person": "mara" }""");

        var stopped = await (await host.TrySay(label, "stage.started", """{ "stage": "case-work", "person": "mara", "despite": ["polish-confirmed"] }""")).Problem();
        var missing = (await host.Bench.Get($"/v1/jobs/{label}")).GetProperty("missing");
        await host.Say(label, "polish.confirmed", """{ "person": "mara" }""");

        Assert.Equal(("polish-confirmed", "stop"), (stopped.Code, stopped.Whole.Text("strength")));
        Assert.Contains(missing.EnumerateArray(), one => one.Text("member") == "polishConfirmed" && one.Text("neededFor") == "case-work");
        await host.Say(label, "stage.started", """{ "stage": "case-work", "person": "mara" }""");
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_wish_that_the_desk_changes_reaches_the_benches(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();

        await (await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "wishes": { "polish": "yes", "fixedDate": null } }""", "*")).Json();
        var entry = (await host.Desk.Get($"/v1/jobs/{label}/history")).GetProperty("items").EnumerateArray().Last();
        await host.Say(label, "polish.confirmed", """{ "person": "mara" }""");
        await (await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "wishes": { "polish": "no" } }""", "*")).Json();

        Assert.Equal("yes", entry.GetProperty("data").Text("polish"));
        Assert.True(entry.GetProperty("data").GetProperty("fixedDateGone").GetBoolean());
        Assert.Equal("polish-confirmed", (await (await host.TrySay(label, "polish.confirmed", """{ "person": "mara" }""")).Problem()).Code);
    }

    [Theory]
    [BothEngines]
    public async Task The_desk_hears_at_once_that_a_day_can_hardly_be_kept_and_goes_on_only_by_saying_so(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var soon = Counter.WholeIntake.Replace("2026-06-12", "2026-04-02");

        var refused = await (await host.Desk.PostJson("/v1/jobs", soon)).Problem();
        var nothing = await host.QueryFirst<long>("select count(*) from customer");
        var taken = await (await host.Desk.PostJson("/v1/jobs", soon.Replace("\"person\"", "\"despite\": [\"fixed-date\"], \"person\""))).Json();
        var reachable = await (await host.Desk.PostJson("/v1/jobs", Counter.WholeIntake)).Json();

        // Monday 2 March, 20 promised open days and 4 until an approval: Friday 3 April.
        Assert.Equal(("fixed-date", 409, "ask"), (refused.Code, refused.Status, refused.Whole.Text("strength")));
        Assert.Equal("2026-04-03", refused.Whole.GetProperty("fixedDate").Text("reachableBy"));
        Assert.Equal(0, nothing);
        Assert.False(taken.GetProperty("fixedDate").GetProperty("reachable").GetBoolean());
        Assert.Equal("usual", taken.GetProperty("fixedDate").Text("basis"));
        Assert.Contains("0 of 20", taken.GetProperty("fixedDate").Text("words"));
        Assert.True(reachable.GetProperty("fixedDate").GetProperty("reachable").GetBoolean());
    }

    [Theory]
    [BothEngines]
    public async Task With_enough_jobs_delivered_the_date_comes_from_the_houses_own_figures(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Save("rules", "main", """{ "intake": { "deliveredJobsForOwnFigures": 5, "lastJobsCounted": 5 } }""");
        for (var i = 0; i < 5; i++)
        {
            // Each is ready on the day after it came in: one open day.
            host.SetTo(2025, 3, 10 + i % 2, 9);
            var job = await host.TakeIn(Counter.WholeIntake.Replace("\"20-417\"", "\"20 417\"").Replace("2026-06-12", "2025-12-12"));
            await host.Approve(job);
            await host.Service(job);
            await host.Settle(job);
        }

        host.SetTo(2026, 3, 2, 10);
        var taken = await (await host.Desk.PostJson("/v1/jobs", Counter.WholeIntake.Replace("2026-06-12", "2026-03-05"))).Json();

        Assert.Equal(("own-figures", 5, "2026-03-03"), (taken.GetProperty("fixedDate").Text("basis"), taken.GetProperty("fixedDate").GetProperty("jobs").GetInt32(), taken.GetProperty("fixedDate").Text("reachableBy")));
    }

    [Theory]
    [BothEngines]
    public async Task An_own_number_is_kept_with_any_job_and_the_same_one_twice_is_only_a_warning(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var first = await (await host.Desk.PostJson("/v1/jobs", """{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "ownNumber": "77 / b" }""")).Json();

        var second = await (await host.Desk.PostJson("/v1/jobs", """{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "ownNumber": "77/B" }""")).Json();

        Assert.Empty(first.GetProperty("sameOwnNumber").EnumerateArray());
        Assert.Equal([first.Text("label")], second.Texts("sameOwnNumber"));
        Assert.Equal(2, (await SearchTests.Search(host, """{ "ownNumber": "77/b" }""")).Length);
    }
}
