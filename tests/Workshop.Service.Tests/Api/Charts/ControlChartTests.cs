using System.Net;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Charts;

/// <summary>Charts of worn rates, restarts, and instruments held against each other, as they are asked for.</summary>
public class ControlChartTests
{
    private static readonly Duration Past = Duration.FromDays(3);

    [Theory, BothEngines]
    public async Task Worn_checks_of_a_bench_get_limits_with_eight_and_begin_anew_where_a_manager_says_so(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        Assert.Empty((await host.Bench.Get("/v1/control-charts")).GetProperty("items").EnumerateArray());
        await Worn(host, [3, 4, 3, 4, 3, 4, 3]);

        var seven = await host.Bench.Get("/v1/control-charts/worn-rate?bench=bench-2&instrument=acoustic-1");
        Assert.Equal(7, seven.GetProperty("points").GetInt32());
        Assert.False(seven.TryGetProperty("limits", out _));
        Assert.Equal("7 worn checks: no limits before there are 8.", seven.GetProperty("words")[0].GetString());

        host.Clock.Advance(Duration.FromDays(1));
        await Worn(host, [4, 19]);
        var nine = await host.Bench.Get("/v1/control-charts/worn-rate?bench=bench-2");
        Assert.Equal((9, 9, false), (nine.GetProperty("points").GetInt32(), nine.GetProperty("limits").GetProperty("points").GetInt32(), nine.GetProperty("limits").GetProperty("frozen").GetBoolean()));
        Assert.Equal((1.128m, 3.267m), (nine.GetProperty("d2").GetDecimal(), nine.GetProperty("d4").GetDecimal()));
        var signals = nine.GetProperty("signals").EnumerateArray().ToArray();
        Assert.Equal([("above", 9), ("step", 9)], signals.Select(one => (one.Text("kind"), one.GetProperty("number").GetInt32())));
        Assert.Contains("lies above the upper limit", signals[0].Text("words"), StringComparison.Ordinal);

        Assert.Equal(
            [("bench-2", null, 9), ("bench-2", "acoustic-1", 9), (null, "acoustic-1", 9)],
            (await host.Bench.Get("/v1/control-charts")).GetProperty("items").EnumerateArray().Select(one => (Optional(one, "bench"), Optional(one, "instrument"), one.GetProperty("points").GetInt32())));

        var manager = Device.Pair(host, Role.Manager, bench: null);
        Assert.Equal(HttpStatusCode.Forbidden, (await Restart(Device.Pair(host, Role.Bench))).Status);
        Assert.Equal("The chart begins anew", (await Restart(manager)).Line);
        Assert.Equal(["/data/reason"], (await manager.Post(manager.Write("control-chart.restarted", null, """{"reason":" "}"""))).Pointers);

        // What is of the instrument begins anew; the bench whatever the instrument goes on.
        Assert.Equal(HttpStatusCode.NotFound, (await Status(host, "/v1/control-charts/worn-rate?instrument=acoustic-1")).StatusCode);
        Assert.Equal(9, (await host.Bench.Get("/v1/control-charts/worn-rate?bench=bench-2")).GetProperty("points").GetInt32());
        Assert.Equal([9, 0, 0], (await host.Bench.Get("/v1/control-charts")).GetProperty("items").EnumerateArray().Select(one => one.GetProperty("points").GetInt32()));
        host.Clock.Advance(Duration.FromDays(5));
        await Worn(host, [5]);
        var anew = await host.Bench.Get("/v1/control-charts/worn-rate?instrument=acoustic-1");
        Assert.Equal((1, "its microphone was exchanged"), (anew.GetProperty("points").GetInt32(), anew.GetProperty("restart").Text("reason")));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task Rows_that_somebody_changed_by_hand_are_found_and_a_correction_puts_them_right(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.Inspection);
        var set = await watch.Does("rate-set.recorded", """{"instrument":"acoustic-1","windState":"full","readings":[{"position":"dial-up","ratePerDaySeconds":40.25}],"person":"mara"}""");
        await watch.Through(Stage.WearCheck);
        Assert.Equal((2, 1), (await Count(host, "rate_mean"), await Count(host, "worn_rate")));
        Assert.Empty(host.Check().Differences);

        await watch.Does("correction.made", $$$"""{"of":{"source":"{{{watch.Bench.Source}}}","id":"{{{set.Whole.Text("id")}}}"},"reason":"another watch's","person":"ines"}""", device: Device.Pair(host, Role.Manager, bench: null));
        Assert.Equal(1, await Count(host, "rate_mean"));
        Assert.Equal(0, await host.QueryFirst<long>("select count(*) from worn_rate where site = 'main' and instrument is not null"));
        Assert.Empty(host.Check().Differences);

        await host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn => turn.Execute("update worn_rate set rate = '9'"));
        Assert.Contains(host.Check().Differences, found => found.Contains("is not in the fold", StringComparison.Ordinal));
        await host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn => turn.Execute("delete from rate_mean"));
        Assert.Contains(host.Check().Differences, found => found.Contains("has no row", StringComparison.Ordinal));
    }

    [Theory, BothEngines]
    public async Task Two_instruments_are_told_apart_by_what_they_show_of_the_same_watches(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        await Measured(host, 2);
        var few = Assert.Single((await host.Bench.Get("/v1/instruments/differences")).GetProperty("items").EnumerateArray());
        Assert.Equal((2, false), (few.GetProperty("pairs").GetInt32(), few.TryGetProperty("interval", out _)));
        Assert.Contains("with fewer than 3 nothing can be said", few.Text("words"), StringComparison.Ordinal);

        await Measured(host, 3);

        var found = await host.Bench.Get("/v1/instruments/differences");
        Assert.Equal(4, found.GetProperty("withinHours").GetDecimal());
        var five = Assert.Single(found.GetProperty("items").EnumerateArray());
        Assert.Equal(("acoustic-1", "acoustic-2", 5, 1.5m, true), (five.Text("one"), five.Text("other"), five.GetProperty("pairs").GetInt32(), five.GetProperty("meanPerDaySeconds").GetDecimal(), five.GetProperty("differs").GetBoolean()));
        Assert.Equal(2.776m, five.GetProperty("interval").GetProperty("t").GetDecimal());
        Assert.Equal([("dial-up", 5), ("crown-down", 5)], five.GetProperty("positions").EnumerateArray().Select(at => (at.Text("position"), at.GetProperty("pairs").GetInt32())));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_chart_is_drawn_as_asked_for_and_what_cannot_be_is_said()
    {
        await using var host = await WorkshopHost.Start();
        await Worn(host, [3, 4, 3, 4, 3, 4, 3, 4, 19]);

        using var svg = await host.Bench.GetAsync("/v1/control-charts/worn-rate.svg?bench=bench-2&width=360");
        Assert.Equal((HttpStatusCode.OK, "image/svg+xml", "no-store"), (svg.StatusCode, svg.Content.Headers.ContentType!.MediaType, $"{svg.Headers.CacheControl}"));
        Assert.Contains("lies above the upper limit", await svg.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        using var png = await host.Bench.GetAsync("/v1/control-charts/worn-rate.png?instrument=acoustic-1&width=360&scale=3.125");
        Assert.Equal(("image/png", 1125), (png.Content.Headers.ContentType!.MediaType, SkiaSharp.SKBitmap.Decode(await png.Content.ReadAsByteArrayAsync()).Width));
        foreach (var (address, status, code) in new[]
        {
            ("worn-rate.svg?bench=nobody", 404, "no-such-thing"), ("worn-rate.gif?bench=bench-2", 404, "no-such-thing"), ("worn-rate?points=5", 422, "bad-fields"),
            ("worn-rate.svg?bench=bench-2&width=20", 422, "bad-fields"), ("worn-rate.png?bench=bench-2&scale=9", 422, "bad-fields"), ("worn-rate?bench=bench-2&points=0", 422, "bad-fields"),
        })
        {
            using var answer = await host.Bench.GetAsync($"/v1/control-charts/{address}");
            Assert.Equal((status, code), await answer.Problem() is var problem ? (problem.Status, problem.Code) : default);
        }
    }

    private static string? Optional(JsonElement one, string member) => one.TryGetProperty(member, out var said) ? said.GetString() : null;

    private static Task<HttpResponseMessage> Status(WorkshopHost host, string address) => host.Bench.GetAsync(address);

    private static Task<long> Count(WorkshopHost host, string table) => host.QueryFirst<long>($"select count(*) from {table} where site = 'main'");

    private static Task<Told> Restart(Device device) => device.Post(device.Write("control-chart.restarted", null, """{"instrument":"acoustic-1","reason":"its microphone was exchanged"}"""));

    // Watches that were worn for a day each, one after the other; what happens to them besides is another test's.
    private static Task<bool> Worn(WorkshopHost host, decimal[] rates) => host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn =>
    {
        foreach (var (i, rate) in rates.Index())
        {
            var (job, later) = (TakenIn(turn), Duration.FromMinutes(i));
            var terms = new WearCheckRecord().TermsFor(new WearRules(), new RateWindow(-4, 10), 1, null, intermittent: false);
            Say(turn, job, "set", Set("acoustic-1", 3, 1), later);
            Say(turn, job, "start", new WearCheckStarted { Kind = WearCheckKind.Worn, OffsetSeconds = 0 }, later + Duration.FromMinutes(1), terms);
            Say(turn, job, "read", new WearCheckRead { Kind = WearCheckKind.Worn, OffsetSeconds = rate }, later + Duration.FromMinutes(1) + Duration.FromDays(1));
        }

        return true;
    });

    private static Task<bool> Measured(WorkshopHost host, int watches) => host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn =>
    {
        for (var i = 0; i < watches; i++)
        {
            var job = TakenIn(turn);
            Say(turn, job, "one", Set("acoustic-1", i, 1), Duration.Zero);
            Say(turn, job, "other", Set("acoustic-2", i + 1.5m, 2.5m), Duration.FromHours(1));
        }

        return true;
    });

    private static RateSetRecorded Set(string instrument, decimal dialUp, decimal crownDown) => new()
    {
        Instrument = instrument,
        WindState = WindState.Full,
        Readings = [new RateReading(Position.DialUp, dialUp), new RateReading(Position.CrownDown, crownDown)],
    };

    private static Label TakenIn(Turn turn)
    {
        var (job, route) = (turn.DrawLabel(LabelKind.Job, StreamEntry.OfJob), turn.Rules.Routes["full-automatic"]);
        turn.Append([turn.Compose(
            StreamEntry.OfJob(job), new EventId("/desk/front", $"take-in/{job}"), new JobTakenIn { Variant = route.Id, Customer = "c-1", Watch = "w-1" },
            new Judged { Role = "desk", Route = route }, turn.Now - Past - Duration.FromHours(1))]);
        return job;
    }

    private static void Say(Turn turn, Label job, string id, WorkshopEvent one, Duration after, WearTerms? terms = null) => turn.Append([turn.Compose(
        StreamEntry.OfJob(job), new EventId("/devices/bench-2/9", $"{job}/{id}"), one, new Judged { Role = "bench", Person = "mara", Bench = "bench-2", Wear = terms }, turn.Now - Past + after)]);
}
