using System.Net;
using System.Text.Json;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Recordings;

/// <summary>Several recordings, one for each position, become one rate set through the door that benches use.</summary>
public class RateSetOfRecordingsTests
{
    [Theory]
    [BothEngines]
    public async Task Recordings_of_several_positions_become_one_set_once(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        var address = $"/v1/jobs/{job}/rate-sets/from-recordings";
        var up = await Send(host, job, Sounds.Watch(rate: 4), "position=dial-up&windState=full&hoursSinceFullWind=0.5");
        var left = await Send(host, job, Sounds.Watch(rate: -3, seed: 2), "position=crown-left&windState=full&hoursSinceFullWind=0.6");

        using var made = await host.Bench.PostJson(address, $$"""{ "recordings": ["{{up}}", "{{left}}"], "settleSeconds": 30 }""", ("Idempotency-Key", "set-1"));
        using var again = await host.Bench.PostJson(address, $$"""{ "recordings": ["{{up}}", "{{left}}"], "settleSeconds": 30 }""", ("Idempotency-Key", "set-1"));
        var set = await made.Json();

        Assert.Equal((HttpStatusCode.Created, HttpStatusCode.Created), (made.StatusCode, again.StatusCode));
        Assert.Equal("true", again.Headers.GetValues("Idempotency-Replayed").Single());
        Assert.Equal(["dial-up", "crown-left"], set.GetProperty("readings").EnumerateArray().Select(one => one.Text("position")));
        Assert.True(set.GetProperty("uncalibrated").GetBoolean());
        Assert.All(set.GetProperty("readings").EnumerateArray().Zip([4.0, -3.0]), one => Assert.Equal(one.Second, one.First.GetProperty("ratePerDaySeconds").GetDouble(), 0.2));

        var kept = Assert.Single((await host.Bench.Get($"/v1/jobs/{job}/rate-sets")).GetProperty("items").EnumerateArray());
        Assert.Equal(("full", 0.5m, 52m, 28_800, "bench-1", 30m), (kept.Text("windState"), kept.GetProperty("hoursSinceFullWind").GetDecimal(), kept.GetProperty("liftAngleDegrees").GetDecimal(),
            kept.GetProperty("vibrationsPerHour").GetInt32(), kept.Text("instrument"), kept.GetProperty("settleSeconds").GetDecimal()));
        Assert.Equal([(up, false), (left, false)], kept.GetProperty("recordings").EnumerateArray().Select(one => (one.Text("sha256"), one.GetProperty("awaited").GetBoolean())));

        // A set that a bench tells may name one that has not come yet.
        await host.Say(job, "rate-set.recorded", $$"""{ "windState": "full", "readings": [ { "position": "dial-up", "ratePerDaySeconds": 4 } ], "recordings": ["{{new string('a', 64)}}"] }""");
        var told = (await host.Bench.Get($"/v1/jobs/{job}/rate-sets")).GetProperty("items").EnumerateArray().Last();
        Assert.True(told.GetProperty("recordings")[0].GetProperty("awaited").GetBoolean());
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task What_makes_no_set_together_is_refused_and_named()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        var up = await Send(host, job, Sounds.Watch(), "position=dial-up&windState=full");
        var alsoUp = await Send(host, job, Sounds.Watch(seed: 2), "position=dial-up&windState=full");
        var later = await Send(host, job, Sounds.Watch(seed: 3), "position=dial-down&windState=one-day&liftAngleDegrees=50&chronographRunning=true");
        var slow = await Send(host, job, Sounds.Watch(vibrations: 21_600), "position=crown-up&windState=full");

        var twice = await Ask(host, job, [up, alsoUp]);
        var missing = await Ask(host, job, [up, new string('b', 64)]);
        var mixed = await Ask(host, job, [up, later]);
        var beats = await Ask(host, job, [up, slow]);
        Assert.Equal(["/recordings/1"], twice.Pointers);
        Assert.Equal(["/recordings/1"], missing.Pointers);
        Assert.Equal(("recordings-differ", 422), (mixed.Code, mixed.Status));
        Assert.Equal(["windState", "liftAngleDegrees", "chronographRunning"], mixed.Whole.Texts("differs"));
        Assert.Equal(["vibrationsPerHour"], beats.Whole.Texts("differs"));

        // A list is read page by page, each recording once.
        using var page = await host.Bench.GetAsync($"/v1/jobs/{job}/recordings?limit=3");
        var rest = await host.Bench.Get(page.Headers.GetValues("Link").Single().Split('<', '>')[1]);
        Assert.Equal([up, alsoUp, later, slow], (await page.Json()).GetProperty("items").EnumerateArray().Concat(rest.GetProperty("items").EnumerateArray()).Select(one => one.Text("sha256")));

        // What was recorded before the index was touched is of another adjustment.
        await host.Say(job, "index.touched", "{}");
        var after = await Send(host, job, Sounds.Watch(seed: 4), "position=dial-down&windState=full");
        Assert.Equal(["adjustment"], (await Ask(host, job, [up, after])).Whole.Texts("differs"));
        Assert.Equal("bad-fields", (await (await host.Bench.PostJson($"/v1/jobs/{job}/rate-sets/from-recordings", $$"""{ "recordings": ["{{up}}"], "at": "2026-03-03T09:00:00Z" }""")).Problem()).Code);
        Assert.Empty((await host.Bench.Get($"/v1/jobs/{job}/rate-sets")).GetProperty("items").EnumerateArray());
    }

    private static async Task<string> Send(WorkshopHost host, string job, Workshop.Beats.Tests.Synthetic.Scene scene, string told)
    {
        var sound = Sounds.Of(scene);
        Assert.Equal("ok", (await (await host.Bench.PutRecording(job, sound, told)).Json()).GetProperty("reading").Text("class"));
        return Sounds.HashOf(sound);
    }

    private static async Task<SeenProblem> Ask(WorkshopHost host, string job, string[] recordings) =>
        await (await host.Bench.PostJson($"/v1/jobs/{job}/rate-sets/from-recordings", JsonSerializer.Serialize(new { recordings }))).Problem();
}
