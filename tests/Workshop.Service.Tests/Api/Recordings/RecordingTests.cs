using System.Net;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Service.Features.Recordings;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Oneself;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Recordings;

/// <summary>Recordings: named by what was sent, kept as they are, listened to at once or in their turn, and never a way to bring the service down.</summary>
public class RecordingTests
{
    [Theory]
    [BothEngines]
    public async Task A_recording_is_kept_byte_for_byte_listened_to_at_once_and_told_of_with_what_is_not_known(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        var sent = Sounds.Of(Sounds.Watch());
        var address = $"/v1/jobs/{job}/recordings/{Sounds.HashOf(sent)}";

        using var first = await host.Bench.PutRecording(job, sent, "position=CH&windState=full&hoursSinceFullWind=0.5&cased=true");
        using var again = await host.Bench.PutRecording(job, sent, "position=CH&windState=full&hoursSinceFullWind=0.5&cased=true");
        var heard = await first.Json();

        Assert.Equal((HttpStatusCode.Created, HttpStatusCode.OK), (first.StatusCode, again.StatusCode));
        Assert.Equal(address, first.Headers.Location!.ToString());
        Assert.Equal(JsonSerializer.Serialize(heard), JsonSerializer.Serialize(await again.Json()));
        Assert.Equal(("listened", "dial-up", "CH", "full", "bench-1"), (heard.Text("state"), heard.Text("position"), heard.Text("toldPosition"), heard.Text("windState"), heard.Text("device")));
        var reading = heard.GetProperty("reading");
        Assert.Equal(("ok", 28_800, 52m, false), (reading.Text("class"), reading.GetProperty("vibrationsPerHour").GetInt32(), reading.GetProperty("with").GetProperty("liftAngleDegrees").GetDecimal(), reading.GetProperty("with").GetProperty("liftAngleTold").GetBoolean()));
        Assert.InRange(reading.GetProperty("ratePerDaySeconds").GetProperty("value").GetDouble(), 3.8, 4.2);
        Assert.InRange(reading.GetProperty("amplitudeDegrees").GetProperty("value").GetDouble(), 275, 285);
        Assert.False(reading.GetProperty("ratePerDaySeconds").GetProperty("parts").TryGetProperty("clock", out _));
        Assert.Equal((false, "The clock of bench-1 is not calibrated: 10 ppm would be 0.86 seconds a day."), (heard.GetProperty("clock").GetProperty("calibrated").GetBoolean(), heard.GetProperty("clock").Text("words")));
        Assert.Equal(0, heard.GetProperty("asks").GetArrayLength());

        using var sound = await host.Desk.GetAsync($"{address}.wav");
        Assert.Equal(sent, await sound.Content.ReadAsByteArrayAsync());
        Assert.Equal(($"\"{Sounds.HashOf(sent)}\"", "audio/wav"), (sound.Headers.ETag!.Tag, sound.Content.Headers.ContentType!.MediaType));
        using var asked = await host.Bench.Send(HttpMethod.Get, address, null, "", [("Accept", "audio/wav")]);
        Assert.Equal(sent, await asked.Content.ReadAsByteArrayAsync());
        using var german = await host.Desk.Send(HttpMethod.Get, address, null, "", [("Accept-Language", "de")]);
        Assert.Contains("nicht kalibriert", (await german.Json()).GetProperty("clock").Text("words"));
        using var seen = await host.Desk.Send(HttpMethod.Get, address, null, "", [("If-None-Match", german.Headers.ETag!.Tag), ("Accept-Language", "de")]);
        Assert.Equal(HttpStatusCode.NotModified, seen.StatusCode);

        // What it rests on is drawn; what waits or was not heard is not.
        using var drawing = await host.Bench.GetAsync($"{address}.svg?language=de&width=720");
        Assert.Contains("Gang", await drawing.Content.ReadAsStringAsync());
        Assert.Equal("image/svg+xml", drawing.Content.Headers.ContentType!.MediaType);
        Assert.Equal(HttpStatusCode.OK, (await host.Desk.GetAsync($"{address}.png?scale=2")).StatusCode);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await host.Desk.GetAsync($"{address}.svg?language=fr")).StatusCode);

        // The same sound told otherwise is one recording, told anew.
        using var told = await host.Bench.PutRecording(job, sent, "position=crown-up&windState=one-day&liftAngleDegrees=50");
        var anew = await told.Json();
        Assert.Equal((HttpStatusCode.OK, "crown-up", 50m), (told.StatusCode, anew.Text("position"), anew.GetProperty("reading").GetProperty("with").GetProperty("liftAngleDegrees").GetDecimal()));
        Assert.True(anew.GetProperty("reading").GetProperty("amplitudeDegrees").GetProperty("value").GetDouble() < reading.GetProperty("amplitudeDegrees").GetProperty("value").GetDouble());
        var list = await host.Bench.Get($"/v1/jobs/{job}/recordings");
        Assert.Equal(Sounds.HashOf(sent), Assert.Single(list.GetProperty("items").EnumerateArray()).Text("sha256"));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task What_is_not_said_is_asked_for_and_what_does_not_fit_is_refused()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        var unknown = await host.TakeIn(Counter.LeastIntake);
        var sound = Sounds.Of(Sounds.Watch());

        (string Told, string Names)[] wrong =
        [
            ("windState=full", "position"), ("position=sideways&windState=full", "position"), ("position=dial-up", "windState"), ("position=dial-up&windState=tight", "windState"),
            ("position=dial-up&windState=full&liftAngleDegrees=5", "liftAngleDegrees"), ("position=dial-up&windState=full&liftAngleDegrees=NaN", "liftAngleDegrees"),
            ("position=dial-up&windState=full&hoursSinceFullWind=-1", "hoursSinceFullWind"), ("position=dial-up&windState=full&cased=perhaps", "cased"),
            ("position=dial-up&windState=full&device=../etc", "device"),
        ];
        foreach (var (told, names) in wrong)
        {
            var problem = await (await host.Bench.PutRecording(job, sound, told)).Problem();
            Assert.Equal((422, names), (problem.Status, problem.Whole.GetProperty("errors")[0].Text("parameter")));
        }

        var noLift = await (await host.Bench.PutRecording(unknown, sound)).Problem();
        Assert.Equal((422, "liftAngleDegrees"), (noLift.Status, noLift.Whole.GetProperty("errors")[0].Text("parameter")));
        using var given = await host.Bench.PutRecording(unknown, sound, "position=dial-up&windState=full&liftAngleDegrees=52");
        Assert.True((await given.Json()).GetProperty("reading").GetProperty("with").GetProperty("liftAngleTold").GetBoolean());

        var differs = await (await host.Bench.PutRecording(job, sound, name: new string('0', 64))).Problem();
        Assert.Equal(("hash-differs", Sounds.HashOf(sound)), (differs.Code, differs.Whole.Text("received")));
        Assert.Equal("no-such-thing", (await (await host.Bench.PutRecording("J7K3MQ43", sound)).Problem()).Code);
        Assert.Equal("bad-fields", (await (await host.Bench.PutRecording(job, sound, name: Sounds.HashOf(sound).ToUpperInvariant())).Problem()).Code);
        Assert.Equal(HttpStatusCode.NotFound, (await host.Bench.GetAsync($"/v1/jobs/{job}/recordings/{new string('0', 64)}")).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await host.As(Http.Keys.Role.Wall).PutRecording(job, sound)).StatusCode);

        // Nothing of what was refused is left behind.
        Assert.Single(FilesOf(host));
    }

    [Fact]
    public async Task A_frequency_that_is_not_the_calibres_is_asked_about()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();

        var heard = await (await host.Bench.PutRecording(job, Sounds.Of(Sounds.Watch(vibrations: 21_600)))).Json();

        Assert.Equal(["The calibre says 28800 vibrations an hour, 21600 were heard: which is right?"], heard.Texts("asks"));
    }

    [Theory]
    [BothEngines]
    public async Task A_long_recording_waits_and_is_listened_to_after_a_restart(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        var hiss = Sounds.LongHiss();
        var address = $"/v1/jobs/{job}/recordings/{Sounds.HashOf(hiss)}";

        using var came = await host.Bench.PutRecording(job, hiss);
        using var again = await host.Bench.PutRecording(job, hiss);
        Assert.Equal((HttpStatusCode.Accepted, HttpStatusCode.Accepted), (came.StatusCode, again.StatusCode));
        Assert.Equal((address, TimeSpan.FromSeconds(2)), (came.Headers.Location!.ToString(), came.Headers.RetryAfter!.Delta));
        Assert.Equal("waiting", (await came.Json()).Text("state"));
        var early = await (await host.Bench.PostJson($"/v1/jobs/{job}/rate-sets/from-recordings", $$"""{ "recordings": ["{{Sounds.HashOf(hiss)}}"] }""")).Problem();
        Assert.Equal((409, "recording-waits"), (early.Status, early.Code));

        Assert.Equal("recording-waits", (await (await host.Bench.GetAsync($"{address}.svg")).Problem()).Code);
        Assert.Equal("1", MetricsTests.Value(await MetricsTests.Scrape(host), "workshop_recordings_waiting"));
        await host.Restart();
        Assert.Equal(1, await Listen(host));
        Assert.Equal(HttpStatusCode.NotFound, (await host.Bench.GetAsync($"{address}.svg")).StatusCode);
        var heard = await host.Bench.Get(address);
        Assert.Equal(("listened", "low"), (heard.Text("state"), heard.GetProperty("reading").Text("class")));
        Assert.Equal(0, await Listen(host));
        var told = await MetricsTests.Scrape(host);
        Assert.Equal(("1", "0"), (MetricsTests.Value(told, "workshop_recordings_total", "outcome=\"low\""), MetricsTests.Value(told, "workshop_recordings_waiting")));
        var low = await (await host.Bench.PostJson($"/v1/jobs/{job}/rate-sets/from-recordings", $$"""{ "recordings": ["{{Sounds.HashOf(hiss)}}"] }""")).Problem();
        Assert.Equal((422, "recording-not-heard", "dial-up"), (low.Status, low.Code, low.Whole.GetProperty("recordings")[0].Text("position")));
    }

    [Fact]
    public async Task Listening_that_takes_too_long_is_given_up_after_three_tries_and_one_that_ends_the_service_is_not_begun_a_fourth_time()
    {
        await using var host = await WorkshopHost.Start(set: new Dictionary<string, string?> { ["Recordings:ListenWithin"] = "PT0.001S" });
        var job = await host.TakeIn();
        var (slow, fatal) = (Sounds.Of(Sounds.Watch()), Sounds.LongHiss(2));

        using var came = await host.Bench.PutRecording(job, slow);
        Assert.Equal(HttpStatusCode.Accepted, came.StatusCode);
        await Listen(host);
        var gaveUp = await host.Bench.Get($"/v1/jobs/{job}/recordings/{Sounds.HashOf(slow)}");
        Assert.Equal(("failed", "took-too-long"), (gaveUp.Text("state"), gaveUp.Text("failure")));
        Assert.Equal("3", MetricsTests.Value(await MetricsTests.Scrape(host), "workshop_recordings_total", "outcome=\"took-too-long\""));
        Assert.Equal(3, await host.QueryFirst<long>("select tries from recording where sha256 = @sha256", new { sha256 = Sounds.HashOf(slow) }));

        // As a service leaves it that died three times while it listened.
        await (await host.Bench.PutRecording(job, fatal)).Json();
        await host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn => turn.Execute("update recording set tries = 3 where sha256 = @sha256", new { sha256 = Sounds.HashOf(fatal) }));
        await host.Restart();
        await Listen(host);
        Assert.Equal("interrupted", (await host.Bench.Get($"/v1/jobs/{job}/recordings/{Sounds.HashOf(fatal)}")).Text("failure"));
    }

    [Fact]
    public async Task The_same_recording_sent_by_many_at_once_is_one()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        var sound = Sounds.Of(Sounds.Watch());

        var answers = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => host.Bench.PutRecording(job, sound)));

        Assert.Equal(1, answers.Count(answer => answer.StatusCode == HttpStatusCode.Created));
        Assert.All(await Task.WhenAll(answers.Select(answer => answer.Json())), heard => Assert.Equal("listened", heard.Text("state")));
        Assert.Single(FilesOf(host));
        Assert.Equal(1, await host.QueryFirst<long>("select tries from recording"));
    }

    [Fact]
    public async Task A_recording_is_listened_to_anew_with_what_is_known_by_then()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        var fast = Sounds.Of(Sounds.Watch(ppm: 30));
        var address = $"/v1/jobs/{job}/recordings/{Sounds.HashOf(fast)}";
        double Rate(JsonElement heard) => heard.GetProperty("reading").GetProperty("ratePerDaySeconds").GetProperty("value").GetDouble();

        var before = await (await host.Bench.PutRecording(job, fast)).Json();
        Assert.InRange(Rate(before), 4 - 2.592 - 0.2, 4 - 2.592 + 0.2);
        await (await host.Bench.Put("/v1/devices/bench-1/recording-clock", """{ "ppm": 30, "uncertaintyPpm": 0.5, "measuredOn": "2025-01-31", "how": "against the radio clock" }""")).Json();
        Assert.Equal(Rate(before), Rate(await host.Bench.Get(address)));

        var after = await (await host.Bench.PostJson($"{address}/listen", "{}")).Json();
        Assert.Equal(Rate(before) + 30 * 0.0864, Rate(after), 0.01);
        var clock = after.GetProperty("clock");
        Assert.Equal((true, 30m, "2025-01-31", true), (clock.GetProperty("calibrated").GetBoolean(), clock.GetProperty("ppm").GetDecimal(), clock.Text("measuredOn"), clock.GetProperty("old").GetBoolean()));
        Assert.Equal("The clock of bench-1 runs +30 ppm, ± 0.5 ppm, measured on 2025-01-31: that is long ago, calibrate it anew.", clock.Text("words"));
        Assert.Equal(0.5 * 0.0864, after.GetProperty("reading").GetProperty("ratePerDaySeconds").GetProperty("parts").GetProperty("clock").GetDouble(), 0.001);
        Assert.DoesNotContain("clock-uncalibrated", after.GetProperty("reading").GetProperty("reasons").EnumerateArray().Select(one => one.Text("reason")));
    }

    [Fact]
    public async Task The_sound_goes_when_its_time_is_over_and_what_was_heard_stays_but_never_under_an_open_job()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        var open = await host.TakeIn();
        var sound = Sounds.Of(Sounds.Watch());
        foreach (var one in new[] { job, open })
        {
            await (await host.Bench.PutRecording(one, sound)).Json();
        }

        await host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn =>
        {
            turn.Append([turn.Compose($"job/{job}", new Core.Journal.EventId("/service", "closing"), new Core.Warranties.JobClosed())]);
            return true;
        });
        var removal = host.Services.GetRequiredService<RemoveOldRecordings>();
        host.Clock.Advance(Duration.FromDays(1_090));
        Assert.Equal(0, await removal.Run(WorkshopHost.Site, SystemClock.Instance.GetCurrentInstant(), default));
        host.Clock.Advance(Duration.FromDays(10));
        Assert.Equal(1, await removal.Run(WorkshopHost.Site, SystemClock.Instance.GetCurrentInstant(), default));
        Assert.Equal(0, await removal.Run(WorkshopHost.Site, SystemClock.Instance.GetCurrentInstant(), default));

        var left = await host.Bench.Get($"/v1/jobs/{job}/recordings/{Sounds.HashOf(sound)}");
        Assert.Equal((false, "ok"), (left.GetProperty("kept").GetBoolean(), left.GetProperty("reading").Text("class")));
        Assert.Equal(HttpStatusCode.NotFound, (await host.Bench.GetAsync($"/v1/jobs/{job}/recordings/{Sounds.HashOf(sound)}.wav")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await host.Bench.GetAsync($"/v1/jobs/{open}/recordings/{Sounds.HashOf(sound)}.wav")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await host.Bench.PostJson($"/v1/jobs/{job}/recordings/{Sounds.HashOf(sound)}/listen", "{}")).StatusCode);
        Assert.True((await (await host.Bench.PutRecording(job, sound)).Json()).GetProperty("kept").GetBoolean());
    }

    private static Task<int> Listen(WorkshopHost host) => host.Services.GetRequiredService<ListenToRecording>().ListenToAll(WorkshopHost.Site, default);

    private static string[] FilesOf(WorkshopHost host) => Directory.GetFiles(host.Services.GetRequiredService<RecordingSettings>().Folder, "*", SearchOption.AllDirectories);
}
