using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

public class BadNewsTests
{
    [Theory, BothEngines]
    public async Task A_case_that_was_opened_before_the_final_control_takes_it_away_however_late_it_is_told(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.ReserveAndFunctions);
        var opened = host.Clock.GetCurrentInstant();
        host.Clock.Advance(Duration.FromHours(1));
        await watch.Through(Stage.Settlement);
        Assert.True((await watch.Job()).Standings.IsReady);
        host.Clock.Advance(Duration.FromHours(1));

        var told = await watch.OpenCase(at: opened);

        Assert.Equal([EntryFlag.Late], told.Flags);
        Assert.Equal("Opened. Again: casing, water test, wear check, final control", told.Line);
        Assert.Equal("A manager is told: results have lost their ground.", told.Say.GetProperty("more").GetString());
        var job = await watch.Job();
        Assert.Equal((StageState.Void, StageState.Void, StageState.Void), (job.Standings.Of(Stage.Casing).State, job.Standings.Of(Stage.WaterTest).State, job.Standings.Of(Stage.WearCheck).State));
        Assert.Equal((StageState.GroundLost, false), (job.Standings.Of(Stage.FinalControl).State, job.Standings.IsReady));
        Assert.Equal(StageState.Done, job.Standings.Of(Stage.ReserveAndFunctions).State);

        var refused = await host.Desk.PostJson($"/v1/jobs/{watch.Label}/hand-over", """{"how":"collected"}""");
        Assert.Equal((HttpStatusCode.Conflict, "needs/final-control"), (refused.StatusCode, (await refused.Problem()).Whole.GetProperty("gate").GetString()));

        var line = Assert.Single(await Lines(host), item => item.GetProperty("kind").GetString() == "ground-lost");
        Assert.Equal("manager", line.GetProperty("level").GetString());
        Assert.Equal(watch.Label.ToString(), line.GetProperty("job").GetString());

        await watch.Through(Stage.FinalControl);
        Assert.True((await watch.Job()).Standings.IsReady);
        Assert.DoesNotContain(await Lines(host), item => item.GetProperty("kind").GetString() == "ground-lost");
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task Told_after_the_watch_has_left_it_is_urgent(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.ReserveAndFunctions);
        var opened = host.Clock.GetCurrentInstant();
        host.Clock.Advance(Duration.FromMinutes(10));
        await watch.Through(Stage.HandedOver);
        host.Clock.Advance(Duration.FromHours(1));

        var told = await watch.OpenCase(at: opened);

        Assert.Equal("accepted", told.Outcome);
        var line = Assert.Single(await Lines(host), item => item.GetProperty("kind").GetString() == "ground-lost");
        Assert.StartsWith("Out of the house", line.GetProperty("line").GetString());
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_touched_index_in_a_closed_case_voids_casing_and_water_test_too(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.FinalControl);

        var told = await watch.Does("index.touched", """{"person":"mara"}""");

        Assert.Equal([EntryFlag.OpeningImplied], told.Flags);
        var standings = (await watch.Job()).Standings;
        Stage[] fallen = [Stage.Regulation, Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.FinalControl];
        Assert.All(fallen, stage => Assert.Equal(StageState.Void, standings.Of(stage).State));
        Assert.True(standings.Stands(Stage.DialAndHands));
    }

    [Theory, BothEngines]
    public async Task Damage_and_holds_count_whenever_they_are_told(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.Takedown);
        var seen = host.Clock.GetCurrentInstant();
        host.Clock.Advance(Duration.FromHours(3));
        await watch.Through(Stage.Rebuild);

        var told = await watch.Does("damage.seen", """{"part":"dial","condition":"scratch at 6"}""", at: seen + Duration.FromHours(1));

        Assert.Equal("Damage noted: a manager decides", told.Line);
        Assert.Equal("hold/damage", (await watch.Tells("stage.started", """{"stage":"regulation"}""")).Gate);
        Assert.True((await watch.Job()).Standings.Stands(Stage.Rebuild), "What was done meanwhile stays done.");
    }

    public static TheoryData<StorageEngine, bool> Evenings => new()
    {
        { StorageEngine.Sqlite, false },
        { StorageEngine.Sqlite, true },
        { StorageEngine.Postgres, false },
        { StorageEngine.Postgres, true },
    };

    [Theory, MemberData(nameof(Evenings))]
    public async Task Two_benches_that_were_away_all_day_end_in_one_state_whoever_comes_back_first(StorageEngine engine, bool withBadNews)
    {
        var one = await Evening(engine, withBadNews, movementFirst: true);
        var other = await Evening(engine, withBadNews, movementFirst: false);

        Assert.Contains("\"regulation\"", one.Document);
        Assert.Equal(one.Document, other.Document);
        Assert.Equal(one.Rows, other.Rows);
    }

    /// <summary>A whole day of the bench for movements and of the one for cases, sent in the evening.</summary>
    private static async Task<(string Document, string Rows)> Evening(StorageEngine engine, bool withBadNews, bool movementFirst)
    {
        await using var host = await WorkshopHost.Start(engine);
        var movement = Device.Pair(host, source: "/devices/bench-2/1");
        var cases = Device.Pair(host, source: "/devices/bench-3/1", bench: "bench-3");
        var watch = await HouseWatch.TakeIn(host, movement, label: Label.Complete(LabelKind.Job, [1, 2, 3, 4, 5, 6]));
        await watch.Through(Stage.Quote);
        var morning = host.Clock.GetCurrentInstant();
        host.Clock.Advance(Duration.FromHours(9));

        var day = new Dictionary<Device, List<string>> { [movement] = [], [cases] = [] };
        At(movement, 10, "piece.taken", """{"kind":"movement","person":"mara"}""");
        At(movement, 15, "stage.started", """{"stage":"takedown","person":"mara"}""");
        At(cases, 30, "piece.taken", """{"kind":"case","person":"jon"}""");
        At(movement, 60, "stage.finished", """{"stage":"takedown","person":"mara"}""");
        At(cases, 61, "damage.seen", """{"part":"case","condition":"dent at 8","asReceived":true}""");
        At(cases, 62, "stage.finished", """{"stage":"case-strip","person":"jon"}""");
        At(movement, 90, "stage.finished", """{"stage":"cleaning","person":"mara"}""");
        At(movement, 120, "stage.finished", """{"stage":"inspection","person":"mara"}""");
        At(cases, 120, "stage.finished", """{"stage":"case-work","person":"jon"}""");
        At(movement, 240, "stage.finished", """{"stage":"rebuild","person":"mara"}""");
        At(cases, 250, "stage.finished", """{"stage":"gaskets","person":"jon"}""");
        At(movement, 260, "rate-set.recorded", """{"readings":[{"position":"dial-up","ratePerDaySeconds":4}]}""");
        At(movement, 261, "stage.finished", """{"stage":"regulation","person":"mara"}""");
        if (withBadNews)
        {
            At(cases, 270, "index.touched", """{"person":"jon"}""");
            At(cases, 275, "hold.placed", """{"hold":"parts","reason":"a crown"}""");
            At(movement, 280, "rate-set.recorded", """{"readings":[{"position":"dial-up","ratePerDaySeconds":2}]}""");
            At(movement, 281, "stage.finished", """{"stage":"regulation","person":"mara"}""");
        }

        At(movement, 300, "stage.finished", """{"stage":"dial-and-hands","person":"mara"}""");
        At(cases, 330, "piece.put", """{"kind":"case","to":"places/safe","person":"jon"}""");

        Device[] back = movementFirst ? [movement, cases] : [cases, movement];
        foreach (var device in back)
        {
            // A report that came before what it rested on waits, and is settled by itself when that comes.
            Assert.All(await device.PostBatch(day[device]), told => Assert.True(told.Outcome is "accepted" or "noted", $"{told.Whole}"));
        }

        Assert.Equal(StageState.Done, await watch.State(Stage.Regulation));
        Assert.Equal(StageState.Done, await watch.State(Stage.DialAndHands));
        Assert.Empty((await watch.Job()).Reviews);
        Assert.Empty(host.Check().Differences);
        var reader = host.Services.GetRequiredService<Reader>();
        var label = new { site = WorkshopHost.Site, label = watch.Label.ToString(), stream = watch.Stream };
        var document = await host.QueryFirst<string>("select document from job where site = @site and label = @label", label);
        var holdings = await reader.Query<string>(
            "select thing || ' ' || holder || ' ' || from_at || ' ' || coalesce(until_at, 0) || ' ' || opened_by_id from holding where site = @site and job = @label order by thing, from_at", label);
        var agenda = await reader.Query<string>("select kind || ' ' || ref || ' ' || due || ' ' || line from agenda where site = @site and stream = @stream order by kind, ref", label);
        return (WithoutTheJournalsLength(document), string.Join('\n', holdings.Concat(agenda)));

        void At(Device device, int minutes, string type, string data) =>
            day[device].Add(device.Write(type, watch.Label.ToString(), data, time: InstantPattern.ExtendedIso.Format(morning + Duration.FromMinutes(minutes))));
    }

    // How many entries there are, and which was the last, tells how it came about and not what it came to.
    private static string WithoutTheJournalsLength(string document)
    {
        var job = JsonNode.Parse(document)!.AsObject();
        Assert.True(job.Remove("version") && job.Remove("last"));
        return job.ToJsonString();
    }

    private static async Task<IEnumerable<JsonElement>> Lines(WorkshopHost host) =>
        (await (await host.As(Role.Manager).GetAsync("/v1/agenda?due=today")).Json()).GetProperty("items").EnumerateArray();
}
