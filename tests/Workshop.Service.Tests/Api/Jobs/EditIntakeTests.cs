using System.Net;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

public class EditIntakeTests
{
    [Theory]
    [BothEngines]
    public async Task What_becomes_known_is_no_longer_missing_and_stands_in_the_journal(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn(Counter.LeastIntake);
        using var seen = await host.Desk.GetAsync($"/v1/jobs/{label}");

        using var edited = await host.Desk.Patch(
            $"/v1/jobs/{label}/intake", """{ "declaredValueMinor": 90000, "currency": "GBP", "terms": { "acceptedOn": "2026-03-02" } }""", seen.Headers.ETag!.Tag);
        var intake = await edited.Json();
        var job = await host.Desk.Get($"/v1/jobs/{label}");
        var entry = (await host.Desk.Get($"/v1/jobs/{label}/history")).GetProperty("items").EnumerateArray().Last();

        Assert.Equal(90000, intake.GetProperty("declaredValueMinor").GetInt64());
        Assert.Equal(["condition", "running", "photos", "labelScannedBack", "consents", "oldPartsBack", "polish"], job.GetProperty("missing").EnumerateArray().Select(one => one.Text("member")));
        Assert.Equal("intake.completed", entry.Text("type"));
        Assert.Equal(["terms", "declaredValue"], entry.GetProperty("data").Texts("known"));
        Assert.DoesNotContain("90000", entry.ToString());
        Assert.NotEqual(seen.Headers.ETag, edited.Headers.ETag);
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task Nobody_overwrites_what_they_have_not_seen(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        using var seen = await host.Desk.GetAsync($"/v1/jobs/{label}");
        var tag = seen.Headers.ETag!.Tag;

        using var blind = await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "remarks": "blind" }""", ifMatch: null);
        using var first = await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "remarks": "first" }""", tag);
        using var late = await host.Manager.Patch($"/v1/jobs/{label}/intake", """{ "remarks": "late" }""", tag);
        using var whatever = await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "remarks": "whatever it was" }""", "*");
        using var weak = await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "remarks": "weak" }""", $"W/{whatever.Headers.ETag!.Tag}");

        Assert.Equal("if-match-needed", (await blind.Problem()).Code);
        Assert.Equal(HttpStatusCode.OK, first.StatusCode);
        Assert.Equal("changed-meanwhile", (await late.Problem()).Code);
        Assert.Equal("whatever it was", (await whatever.Json()).Text("remarks"));
        Assert.Equal(HttpStatusCode.PreconditionFailed, weak.StatusCode);
    }

    [Theory]
    [BothEngines]
    public async Task What_benches_say_meanwhile_does_not_count_as_a_change_of_the_intake(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        using var seen = await host.Desk.GetAsync($"/v1/jobs/{label}");
        await host.Say(label, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(label);

        using var edited = await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "remarks": "rang at noon" }""", seen.Headers.ETag!.Tag);

        Assert.Equal(HttpStatusCode.OK, edited.StatusCode);
    }

    [Fact]
    public async Task A_merge_patch_leaves_alone_what_it_does_not_name_and_takes_away_what_it_calls_null()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();

        var after = await (await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "remarks": null, "wishes": { "fixedDate": null } }""", "*")).Json();
        var again = await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "remarks": null }""", "*");

        Assert.False(after.TryGetProperty("remarks", out _));
        Assert.Equal("no", after.GetProperty("wishes").Text("polish"));
        Assert.True(after.GetProperty("wishes").GetProperty("oldPartsBack").GetBoolean());
        Assert.False(after.GetProperty("wishes").TryGetProperty("fixedDate", out _));
        Assert.Equal(after.GetProperty("version").GetInt64(), (await again.Json()).GetProperty("version").GetInt64());
    }

    [Fact]
    public async Task A_declared_value_that_was_agreed_changes_only_with_a_note_and_the_old_one_stays_visible()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();

        var without = await (await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "declaredValueMinor": 300000 }""", "*")).Problem();
        var with = await (await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "declaredValueMinor": 300000, "declaredValueNote": "papers found" }""", "*")).Json();
        var next = await (await host.Desk.Patch($"/v1/jobs/{label}/intake", """{ "declaredValueMinor": 310000 }""", "*")).Problem();

        Assert.Equal(["/declaredValueNote"], without.Pointers);
        Assert.Equal(240000, with.GetProperty("earlierValues")[0].GetProperty("amountMinor").GetInt64());
        Assert.Equal("papers found", with.GetProperty("earlierValues")[0].Text("note"));
        Assert.Equal(["/declaredValueNote"], next.Pointers);
    }

    [Theory]
    [InlineData("""{ "declaredValueMinor": null, "currency": null }""", "/declaredValueMinor", "/declaredValueNote")]
    [InlineData("""{ "terms": null }""", "/terms/acceptedOn")]
    [InlineData("""{ "terms": { "acceptedOn": "2026-03-03" } }""", "/terms/acceptedOn")]
    [InlineData("""{ "condition": "", "conditionGrid": [ { "place": "dial", "condition": "not-looked" } ] }""", "/condition")]
    [InlineData("""{ "arrival": { "running": "unknown" } }""", "/arrival/running")]
    [InlineData("""{ "arrival": { "photosTaken": 0 } }""", "/arrival/photosTaken")]
    [InlineData("""{ "wishes": { "oldPartsBack": null } }""", "/wishes/oldPartsBack")]
    [InlineData("""{ "wishes": { "polish": "ask" } }""", "/wishes/polish")]
    [InlineData("""{ "wishes": { "polish": "maybe" } }""", "/wishes/polish")]
    [InlineData("""{ "wishes": 4 }""", "/wishes")]
    [InlineData("""{ "wishes": { "fixedDate": "2026-02-01" } }""", "/wishes/fixedDate")]
    [InlineData("""{ "accessories": [] }""", "/accessories")]
    [InlineData("""{ "nonsense": null }""", "/nonsense")]
    [InlineData("""{ "wishes": { "nonsense": 1 } }""", "/wishes/nonsense")]
    [InlineData("[1]", "")]
    public async Task A_patch_that_cannot_be_is_refused_as_a_whole(string patch, params string[] pointers)
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();

        var problem = await (await host.Desk.Patch($"/v1/jobs/{label}/intake", patch, "*")).Problem();

        Assert.Equal(422, problem.Status);
        Assert.Equal(pointers, problem.Pointers);
    }

    [Fact]
    public async Task A_patch_may_come_as_plain_json_and_nothing_else()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();

        using var plain = await host.Desk.Send(HttpMethod.Patch, $"/v1/jobs/{label}/intake", """{ "remarks": "a" }""", "application/json", ("If-Match", "*"));
        using var text = await host.Desk.Send(HttpMethod.Patch, $"/v1/jobs/{label}/intake", """{ "remarks": "b" }""", "text/plain", ("If-Match", "*"));

        Assert.Equal(HttpStatusCode.OK, plain.StatusCode);
        Assert.Equal(HttpStatusCode.UnsupportedMediaType, text.StatusCode);
    }
}
