using System.Net;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

public class TakeInJobTests
{
    [Theory]
    [BothEngines]
    public async Task A_way_to_reach_somebody_and_a_few_words_are_enough(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);

        using var answer = await host.Desk.PostJson("/v1/jobs", Counter.LeastIntake);
        var taken = await answer.Json();

        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
        Assert.Equal($"/v1/jobs/{taken.Text("label")}", answer.Headers.Location?.ToString());
        Assert.Equal('J', taken.Text("label")[0]);
        Assert.Equal("full-automatic", taken.Text("variant"));
        Assert.True(taken.GetProperty("variantAssumed").GetBoolean());
        Assert.Equal(
            [
                "terms for diagnosis", "condition for diagnosis", "running for diagnosis", "photos for diagnosis", "labelScannedBack for diagnosis", "consents for quote",
                "declaredValue for takedown", "oldPartsBack for takedown", "polish for case-work",
            ],
            taken.GetProperty("missing").EnumerateArray().Select(one => $"{one.Text("member")} for {one.Text("neededFor")}"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_whole_intake_leaves_nothing_to_ask(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);

        var taken = await (await host.Desk.PostJson("/v1/jobs", Counter.WholeIntake)).Json();
        var job = await host.Desk.Get(taken.GetProperty("links").Text("self"));

        Assert.Equal(["labelScannedBack"], taken.GetProperty("missing").EnumerateArray().Select(one => one.Text("member")));
        Assert.Empty(taken.GetProperty("cautions").EnumerateArray());
        Assert.False(taken.GetProperty("variantAssumed").GetBoolean());
        Assert.Equal("diagnosis", job.Text("stage"));
        Assert.Equal("Ida Marlow", job.GetProperty("customer").Text("name"));
        Assert.Equal("Orrery & Finch", job.GetProperty("watch").Text("maker"));
        Assert.Equal(28800, job.GetProperty("watch").GetProperty("calibre").GetProperty("vibrationsPerHour").GetInt32());
        Assert.Equal(240000, job.GetProperty("intake").GetProperty("declaredValueMinor").GetInt64());
        Assert.Equal("two links loose", job.GetProperty("intake").GetProperty("accessories")[0].Text("note"));
        Assert.Equal(
            ["movement", "case", "dial-and-hands", "bracelet", "links"],
            job.GetProperty("pieces").EnumerateArray().Select(one => one.Text("piece")));
        Assert.All(job.GetProperty("pieces").EnumerateArray(), piece => Assert.Equal("places/desk", piece.Text("holder")));
    }

    [Theory]
    [BothEngines]
    public async Task The_journal_holds_nothing_by_which_a_customer_is_known(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();

        using var answer = await host.Manager.GetAsync($"/v1/jobs/{label}/history");
        var text = await answer.Content.ReadAsStringAsync();

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("job.taken-in", text);
        Assert.All(["Marlow", "7946", "ida@", "Tallow", "240000", "mother", "two links", "gorse", "heather", "letter"], canary => Assert.DoesNotContain(canary, text));
    }

    [Theory]
    [InlineData("automatic", "full-automatic", false)]
    [InlineData("chronograph", "full-chronograph", false)]
    [InlineData("hand-wound", "full-hand-wound", false)]
    [InlineData("quartz", "quartz-train", false)]
    [InlineData("unknown", "full-automatic", true)]
    public async Task The_kind_of_work_follows_from_what_drives_the_watch(string kind, string variant, bool assumed)
    {
        await using var host = await Counter.Open();

        var taken = await (await host.Desk.PostJson(
            "/v1/jobs", $$"""{ "customer": { "email": "a@b.example" }, "watch": { "maker": "Velling", "calibre": { "kind": "{{kind}}" } } }""")).Json();

        Assert.Equal(variant, taken.Text("variant"));
        Assert.Equal(assumed, taken.GetProperty("variantAssumed").GetBoolean());
    }

    [Theory]
    [InlineData("""{ "words": "gold, 1950s", "madeInYear": 1955 }""", "radium-suspected")]
    [InlineData("""{ "maker": "Velling", "madeInYear": 1985, "luminousPaint": true }""", "tritium-suspected")]
    [InlineData("""{ "maker": "Velling", "madeInYear": 2015, "waterOrLeakInside": true }""", "corrosion-urgent")]
    [InlineData("""{ "maker": "Velling", "madeInYear": 2015, "calibre": { "kind": "quartz" } }""", "cells")]
    public async Task A_suspected_danger_comes_with_its_caution_and_leaves_the_decision_to_licensed_practice(string watch, string caution)
    {
        await using var host = await Counter.Open();

        var taken = await (await host.Desk.PostJson("/v1/jobs", $$"""{ "customer": { "telephone": "01632 960 117" }, "watch": {{watch}} }""")).Json();
        var seen = await host.Bench.Get($"/v1/jobs/{taken.Text("label")}");

        Assert.Equal(caution, Assert.Single(taken.GetProperty("cautions").EnumerateArray()).Text("id"));
        Assert.Contains("Local rules and licensed practice decide", taken.GetProperty("cautions")[0].Text("text"));
        Assert.Equal(caution, Assert.Single(seen.GetProperty("cautions").EnumerateArray()).Text("id"));
    }

    [Fact]
    public async Task A_danger_that_is_known_is_kept_beside_those_suspected()
    {
        await using var host = await Counter.Open();

        var taken = await (await host.Desk.PostJson(
            "/v1/jobs", """{ "customer": { "telephone": "01632 960 117" }, "watch": { "maker": "Velling", "madeInYear": 1985, "luminousPaint": true }, "hazards": ["radium-suspected"] }""")).Json();

        Assert.Equal(["tritium-suspected", "radium-suspected"], taken.GetProperty("cautions").EnumerateArray().Select(one => one.Text("id")));
    }

    [Theory]
    [BothEngines]
    public async Task A_known_customer_brings_a_known_watch_again(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var first = await (await host.Desk.PostJson("/v1/jobs", Counter.WholeIntake)).Json();

        var second = await (await host.Desk.PostJson("/v1/jobs", $$"""{ "customer": "{{first.Text("customer")}}", "watch": "{{first.Text("watch")}}" }""")).Json();
        var watch = await host.Desk.Get($"/v1/watches/{first.Text("watch")}");

        Assert.Equal(first.Text("customer"), second.Text("customer"));
        Assert.Equal(first.Text("watch"), second.Text("watch"));
        Assert.Equal("full-automatic", second.Text("variant"));
        Assert.Equal(
            new[] { first.Text("label"), second.Text("label") }.Order(),
            watch.GetProperty("jobs").EnumerateArray().Select(job => job.Text("label")).Order());

        // It is still here from the first time: perhaps somebody has it twice on the table.
        Assert.Equal([first.Text("label")], second.Texts("sameNumbers"));
    }

    [Theory]
    [BothEngines]
    public async Task The_same_key_takes_a_watch_in_once(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);

        using var first = await host.Desk.PostJson("/v1/jobs", Counter.WholeIntake, ("Idempotency-Key", "counter-1"));
        using var again = await host.Desk.PostJson("/v1/jobs", Counter.WholeIntake, ("Idempotency-Key", "counter-1"));
        using var other = await host.Desk.PostJson("/v1/jobs", Counter.LeastIntake, ("Idempotency-Key", "counter-1"));
        var jobs = await host.Desk.Get("/v1/jobs");

        Assert.Equal(await first.Content.ReadAsStringAsync(), await again.Content.ReadAsStringAsync());
        Assert.Equal(HttpStatusCode.Created, again.StatusCode);
        Assert.Equal("true", Assert.Single(again.Headers.GetValues("Idempotency-Replayed")));
        Assert.Equal("idempotency-key-reused", (await other.Problem()).Code);
        Assert.Single(jobs.GetProperty("items").EnumerateArray());
    }

    [Theory]
    [InlineData("""{ "watch": { "words": "old" } }""", "/customer")]
    [InlineData("""{ "customer": { "telephone": "01632 960 117" } }""", "/watch")]
    [InlineData("""{ "customer": null, "watch": { "words": "old" } }""", "/customer")]
    [InlineData("""{ "customer": 4, "watch": { "words": "old" } }""", "/customer")]
    [InlineData("""{ "customer": "", "watch": { "words": "old" } }""", "/customer")]
    [InlineData("""{ "customer": "nobody", "watch": { "words": "old" } }""", "/customer")]
    [InlineData("""{ "customer": { "name": "Ida" }, "watch": { "words": "old" } }""", "/customer")]
    [InlineData("""{ "customer": { "telephone": "call me" }, "watch": { "words": "old" } }""", "/customer/telephone")]
    [InlineData("""{ "customer": { "email": "nonsense" }, "watch": { "words": "old" } }""", "/customer/email")]
    [InlineData("""{ "customer": { "email": "a@b.example", "shoeSize": 4 }, "watch": { "words": "old" } }""", "/customer/shoeSize")]
    [InlineData("""{ "customer": { "email": "a@b.example", "language": "the old one" }, "watch": { "words": "old" } }""", "/customer/language")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "  " } }""", "/watch")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": "none" }""", "/watch")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old", "madeInYear": 2027 } }""", "/watch/madeInYear")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old", "calibre": { "vibrationsPerHour": 0 } } }""", "/watch/calibre/vibrationsPerHour")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old", "calibre": { "liftAngleDegrees": 90.1 } } }""", "/watch/calibre/liftAngleDegrees")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old", "calibre": { "liftAngleDegrees": 99999999999999999999 } } }""", "/watch/calibre/liftAngleDegrees")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old", "calibre": { "kind": "steam" } } }""", "/watch/calibre/kind")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "variant": "no-such-work" }""", "/variant")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "declaredValueMinor": 1000 }""", "/currency")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "currency": "GBP" }""", "/declaredValueMinor")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "declaredValueMinor": -1, "currency": "GBP" }""", "/declaredValueMinor")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "declaredValueMinor": "1000", "currency": "GBP" }""", "/declaredValueMinor")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "declaredValueMinor": 1000, "currency": "pounds" }""", "/currency")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "terms": { "acceptedOn": "2026-03-03" } }""", "/terms/acceptedOn")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "wishes": { "fixedDate": "2026-03-01" } }""", "/wishes/fixedDate")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "accessories": null }""", "/accessories")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "accessories": [ { "kind": "movement" } ] }""", "/accessories/0/kind")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "accessories": [ { "kind": "links", "count": 0 } ] }""", "/accessories/0/count")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "accessories": [ null ] }""", "/accessories/0")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "hazards": ["dragons"] }""", "/hazards/0")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "hazards": [null] }""", "/hazards/0")]
    [InlineData("""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "surprise": 1 }""", "/surprise")]
    public async Task What_is_wrong_in_an_intake_is_named_and_nothing_is_kept(string body, string pointer)
    {
        await using var host = await Counter.Open();

        var problem = await (await host.Desk.PostJson("/v1/jobs", body)).Problem();

        Assert.Equal(422, problem.Status);
        Assert.Equal([pointer], problem.Pointers);
        Assert.Empty((await host.Desk.Get("/v1/jobs")).GetProperty("items").EnumerateArray());
    }

    [Fact]
    public async Task What_is_wrong_is_named_all_at_once()
    {
        await using var host = await Counter.Open();

        var problem = await (await host.Desk.PostJson(
            "/v1/jobs", """{ "customer": { "name": "Ida" }, "watch": { "madeInYear": 1200 }, "variant": "x", "currency": "GBP", "hazards": ["dragons"] }""")).Problem();

        Assert.Equal(["/customer", "/watch", "/watch/madeInYear", "/variant", "/declaredValueMinor", "/hazards/0"], problem.Pointers);
    }

    [Fact]
    public async Task A_long_text_is_refused_and_not_cut()
    {
        await using var host = await Counter.Open();

        var problem = await (await host.Desk.PostJson(
            "/v1/jobs", $$"""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "remarks": "{{new string('x', 4001)}}" }""")).Problem();

        Assert.Equal(["/remarks"], problem.Pointers);
    }

    [Theory]
    [BothEngines]
    public async Task A_missing_member_is_asked_for_by_the_stage_that_needs_it(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn(Counter.LeastIntake);

        var diagnosis = await (await host.TrySay(label, "stage.started", """{ "stage": "diagnosis", "person": "mara" }""")).Problem();
        await host.Say(label, "stage.finished", """{ "stage": "diagnosis", "person": "mara", "despite": ["intake/terms", "intake/condition"] }""");
        await host.SendQuote(label);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true }""")).Json();
        var takedown = await (await host.TrySay(label, "stage.started", """{ "stage": "takedown", "person": "mara", "despite": ["intake/declaredValue"] }""")).Problem();

        Assert.Equal("intake", diagnosis.Code);
        Assert.Equal(["intake/terms", "intake/condition"], diagnosis.Whole.GetProperty("against").EnumerateArray().Select(one => one.Text("gate")));
        Assert.Equal("declaredValue", takedown.Whole.Text("member"));
        Assert.Equal("stop", takedown.Whole.Text("strength"));
    }

    [Theory]
    [BothEngines]
    public async Task An_event_under_the_identity_of_a_command_is_a_conflict(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        var entry = (await host.Desk.Get($"/v1/jobs/{label}/history")).GetProperty("items")[0];

        var problem = await (await host.Desk.Send(
            HttpMethod.Post, "/v1/bench-events",
            $$"""{ "specversion": "1.0", "id": "{{entry.Text("id")}}", "source": "{{entry.Text("source")}}", "type": "note.written", "subject": "{{label}}", "data": { "text": "rang" } }""",
            "application/cloudevents+json")).Problem();

        Assert.Equal("event-conflict", problem.Code);
        Assert.Equal(entry.GetProperty("position").GetInt64(), problem.Whole.GetProperty("stored").GetProperty("position").GetInt64());
    }

    [Fact]
    public async Task Fifty_watches_at_once_get_fifty_labels()
    {
        await using var host = await Counter.Open();

        var labels = await Task.WhenAll(Enumerable.Range(0, 50).Select(_ => host.TakeIn()));

        Assert.Equal(50, labels.Distinct().Count());
        Assert.Empty(host.Check().Differences);
    }
}
