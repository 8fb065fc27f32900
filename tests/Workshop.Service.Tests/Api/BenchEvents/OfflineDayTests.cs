using NodaTime;
using NodaTime.Text;
using Workshop.Core.Holds;
using Workshop.Core.Route;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

/// <summary>A tablet that was without a connection from morning till evening, and then says all at once.</summary>
public class OfflineDayTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    [Theory]
    [InlineData(StorageEngine.Sqlite, 40)]
    [InlineData(StorageEngine.Postgres, 40)]
    [InlineData(StorageEngine.Sqlite, 1)]
    public async Task Of_forty_posts_the_seventh_waits_for_a_manager_the_rest_is_judged_by_itself_and_what_waited_behind_it_follows(StorageEngine engine, int atOnce)
    {
        var host = await hosts.On(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.Quote);
        var morning = host.Clock.GetCurrentInstant();
        host.Clock.Advance(Duration.FromHours(9));
        var away = Device.Pair(host);
        var day = Day().Select((what, i) => away.Write(
            what.Type, watch.Label.ToString(), what.Data, id: $"line-{i + 1}", time: InstantPattern.ExtendedIso.Format(morning + Duration.FromMinutes(10 * (i + 1))))).ToArray();

        var told = new List<Told>();
        foreach (var part in day.Chunk(atOnce))
        {
            told.AddRange(await away.PostBatch(part));
        }

        Assert.Equal(40, told.Count);
        Assert.Equal(["noted", "noted"], [told[6].Outcome, told[8].Outcome]);
        Assert.All(told.Where((_, i) => i is not (6 or 8)), one => Assert.Equal("accepted", one.Outcome));
        Assert.Equal(40, (await watch.Entries()).Count(entry => entry.Id.Source == away.Source));
        Assert.Equal(StageState.Done, await watch.State(Stage.Rebuild));
        Assert.True((await watch.Job()).Holds.Holds(HoldReason.Query));

        var office = Device.Pair(host, Role.Manager, bench: null);
        await watch.Does(
            "report.settled", $$"""{"of":{"source":"{{away.Source}}","id":"line-7"},"as":"happened","reason":"the polisher's boy brought it","person":"ines"}""", device: office);

        var job = await watch.Job();
        Assert.Empty(job.Reviews);
        Assert.Empty(job.Holds.Standing);
        Assert.Equal("people/mara", job.Pieces.Pieces.Single(piece => piece.Id == "case").Holder);
        Assert.Equal(2, (await watch.Entries()).Count(entry => entry.Event is Core.Reports.ReportSettled));
        Assert.All(await away.PostBatch(day), one => Assert.Equal("replayed", one.Outcome));
        Assert.Empty(host.Check().Differences);
    }

    // The seventh takes a case from a firm that nobody gave it to, the ninth takes it where that left it.
    private static IEnumerable<(string Type, string Data)> Day() => Enumerable.Range(1, 40).Select(line => line switch
    {
        1 => Done(Stage.Takedown),
        2 => Done(Stage.Cleaning),
        4 => Done(Stage.Inspection),
        6 => Done(Stage.CaseStrip),
        7 => ("piece.taken", """{"kind":"case","from":"firms/polisher","to":"trays/7","person":"mara"}"""),
        9 => ("piece.taken", """{"kind":"case","from":"trays/7","person":"mara"}"""),
        21 => Done(Stage.Rebuild),
        40 => ("piece.taken", """{"kind":"movement","person":"mara"}"""),
        _ => ("note.written", $$"""{"text":"line {{line}}","person":"mara"}"""),
    });

    private static (string Type, string Data) Done(Stage stage) =>
        ("stage.finished", $$"""{"stage":"{{Core.Words.Word.Of(stage)}}","person":"mara","despite":["intake/declaredValue"]}""");
}
