using System.Net;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

/// <summary>What came before its turn waits, for a while of real time; here for a second at most, or for minutes where nothing may be released.</summary>
public class HeldGapTests
{
    private static readonly Dictionary<string, string?> Patient = new() { ["Events:HoldGapFor"] = "PT5M" };
    private static readonly Dictionary<string, string?> Impatient = new() { ["Events:HoldGapFor"] = "PT0.4S" };

    [Theory]
    [InlineData(StorageEngine.Sqlite, 10)]
    [InlineData(StorageEngine.Sqlite, 0)]
    [InlineData(StorageEngine.Postgres, 10)]
    [InlineData(StorageEngine.Postgres, 0)]
    public async Task Four_events_that_come_in_the_wrong_order_end_as_if_they_had_come_in_the_right_one(StorageEngine engine, int before)
    {
        // A device heard before has spoken up to 10 and says 13, 11, 14, 12; one never heard says 3, 1, 4, 2.
        await using var host = await WorkshopHost.Start(engine, Patient);
        var (straight, crooked) = (await HouseWatch.TakeIn(host), await HouseWatch.TakeIn(host));
        var (one, other) = (Device.Pair(host), Device.Pair(host));
        for (var number = 1; number <= before; number++)
        {
            await one.Say(straight.Label.ToString(), "note.written", """{"text":"before"}""");
            await other.Say(crooked.Label.ToString(), "note.written", """{"text":"before"}""");
        }

        var outcomes = new List<string>();
        foreach (var number in (int[])[1, 2, 3, 4])
        {
            await one.Post(Step(one, straight, before, number));
        }

        foreach (var number in (int[])[3, 1, 4, 2])
        {
            outcomes.Add((await other.Post(Step(other, crooked, before, number))).Outcome);
        }

        Assert.Equal(["held", "accepted", "held", "accepted"], outcomes);
        Assert.Equal(await Lines(straight), await Lines(crooked));
        Assert.Equal(StageState.Done, await crooked.State(Stage.Takedown));
        Assert.Equal(["accepted", "accepted"], (await other.Outcomes(2)).Select(told => told.Outcome));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_number_that_never_comes_is_not_waited_for_longer_than_the_hold_and_the_rest_is_flagged(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine, Impatient);
        var watch = await HouseWatch.TakeIn(host);
        var device = watch.Bench;

        var held = await device.Post(Note(device, watch, 3));
        var alsoHeld = await device.Post(Note(device, watch, 4));
        var outcomes = await device.Outcomes(2);
        var next = await device.Post(Note(device, watch, 5));
        var late = await device.Post(Note(device, watch, 2));

        Assert.Equal(("held", "held"), (held.Outcome, alsoHeld.Outcome));
        Assert.Equal(["accepted", "accepted"], outcomes.Select(told => told.Outcome));
        Assert.Equal([[EntryFlag.Gap], []], outcomes.Select(told => told.Flags.ToArray()));
        Assert.Equal(("accepted", "accepted"), (next.Outcome, late.Outcome));
        Assert.Empty(late.Flags);
        Assert.Equal(["2", "3", "4", "5"], (await watch.Entries()).Select(entry => entry.Event).OfType<Core.Notes.NoteWritten>().Select(note => note.Text));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task The_verdict_on_what_was_held_is_fetched_later_or_by_posting_it_again(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine, Patient);
        var watch = await HouseWatch.TakeIn(host);
        var device = watch.Bench;
        var second = device.Write("stage.started", watch.Label.ToString(), """{"stage":"rebuild","person":"mara"}""", number: 2);

        var held = await device.Post(second);
        var stillHeld = await device.Post(second);
        await device.Post(Note(device, watch, 1));
        var fetched = Assert.Single(await device.Outcomes(1));
        var again = await device.Post(second);

        Assert.Equal(("held", "ok"), (held.Outcome, held.Signal));
        Assert.Equal("held", stillHeld.Outcome);
        Assert.Equal(("refused", "needs"), (fetched.Outcome, fetched.Code));
        Assert.Equal((HttpStatusCode.Conflict, "needs", true), (again.Status, again.Code, again.Replayed));
        Assert.Empty(await device.Outcomes(0, after: 1));
    }

    [Theory, BothEngines]
    public async Task A_declared_gap_closes_at_once(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine, Patient);
        var watch = await HouseWatch.TakeIn(host);
        var device = watch.Bench;
        await device.Post(Note(device, watch, 1));
        await device.Post(Note(device, watch, 4));
        await device.Post(Note(device, watch, 6));

        var tooFar = await device.Post(device.Write("device.gap-declared", null, """{"from":2,"to":9}""", number: 7));
        var declared = await device.Post(device.Write("device.gap-declared", null, """{"from":2,"to":3}""", number: 8));
        var four = Assert.Single(await device.Outcomes(1));
        await device.Post(Note(device, watch, 5));

        Assert.Equal("/data/to", Assert.Single(tooFar.Pointers));
        Assert.Equal("accepted", declared.Outcome);
        Assert.Empty(four.Flags);
        Assert.Equal(["1", "4", "5", "6"], (await watch.Entries()).Select(entry => entry.Event).OfType<Core.Notes.NoteWritten>().Select(note => note.Text));
        Assert.Equal("accepted", (await device.Post(Note(device, watch, 9))).Outcome);
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task What_is_held_outlives_the_service(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine, Impatient);
        var watch = await HouseWatch.TakeIn(host);
        var held = await watch.Bench.Post(Note(watch.Bench, watch, 2));

        await host.Restart();
        var device = Device.Pair(host, source: watch.Bench.Source);

        Assert.Equal("held", held.Outcome);
        Assert.Equal("accepted", Assert.Single(await device.Outcomes(1)).Outcome);
    }

    [Fact]
    public async Task Three_hundred_that_wait_for_one_are_judged_in_their_order_over_several_turns()
    {
        await using var host = await WorkshopHost.Start(StorageEngine.Sqlite, Patient);
        var watch = await HouseWatch.TakeIn(host);
        var device = watch.Bench;

        var held = await device.PostBatch(Enumerable.Range(2, 300).Select(number => Note(device, watch, number)));
        var first = await device.Post(Note(device, watch, 1));
        for (var patience = 200; patience > 0 && (await watch.Entries()).Length < 302; patience--)
        {
            await Task.Delay(50);
        }

        Assert.All(held, told => Assert.Equal("held", told.Outcome));
        Assert.Equal("accepted", first.Outcome);
        Assert.Equal(
            Enumerable.Range(1, 301).Select(number => $"{number}"),
            (await watch.Entries()).OrderBy(entry => entry.Position).Select(entry => entry.Event).OfType<Core.Notes.NoteWritten>().Select(note => note.Text));
    }

    [Fact]
    public async Task Live_or_late_goes_by_the_receipt_of_the_post_and_not_by_its_release()
    {
        await using var host = await WorkshopHost.Start(StorageEngine.Sqlite, Patient);
        var watch = await HouseWatch.TakeIn(host);
        var device = watch.Bench;

        await device.Post(device.Write("stage.started", watch.Label.ToString(), """{"stage":"rebuild"}""", number: 2));
        host.Clock.Advance(Duration.FromHours(1));
        await device.Post(device.Write("note.written", watch.Label.ToString(), """{"text":"1"}""", time: "", number: 1));

        // Asked at once, it is refused, as it would have been without the wait.
        Assert.Equal("needs", Assert.Single(await device.Outcomes(1)).Code);
    }

    [Fact]
    public async Task What_a_key_said_before_it_was_withdrawn_is_judged_all_the_same()
    {
        await using var host = await WorkshopHost.Start(StorageEngine.Sqlite, Impatient);
        var watch = await HouseWatch.TakeIn(host);
        await watch.Bench.Post(Note(watch.Bench, watch, 2));
        await host.Services.GetRequiredService<Writer>().Turn(
            WorkshopHost.Site, turn => turn.Execute("update api_key set revoked = 1 where site = @site and source = @source", new { site = turn.Site, source = watch.Bench.Source }));

        for (var patience = 200; patience > 0 && (await watch.Entries()).Length < 2; patience--)
        {
            await Task.Delay(50);
        }

        Assert.Equal("2", Assert.Single((await watch.Entries()).Select(entry => entry.Event).OfType<Core.Notes.NoteWritten>()).Text);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public async Task In_whatever_order_and_however_often_one_devices_events_arrive_the_journal_is_that_of_the_right_order(int seed)
    {
        await using var host = await WorkshopHost.Start(StorageEngine.Sqlite, Patient);
        var chance = new Random(seed);
        var (straight, crooked) = (await HouseWatch.TakeIn(host), await HouseWatch.TakeIn(host));
        var (one, other) = (Device.Pair(host), Device.Pair(host));
        host.Clock.Advance(Duration.FromMinutes(30));
        var said = Enumerable.Range(1, 24).Select(number => (Number: number, What: Anything(chance), Time: TimeOf(chance, host, number))).ToArray();

        foreach (var (number, (type, data), time) in said)
        {
            await one.Post(one.Write(type, straight.Label.ToString(), data, time: time, number: number));
        }

        foreach (var (number, (type, data), time) in said.Concat(said.Where(_ => chance.Next(3) == 0)).OrderBy(_ => chance.Next()))
        {
            var told = await other.Post(other.Write(type, crooked.Label.ToString(), data, time: time, number: number));
            Assert.NotEqual("event-conflict", told.Whole.TryGetProperty("code", out var code) ? code.GetString() : null);
        }

        Assert.Equal(await Lines(straight), await Lines(crooked));
        Assert.Equal(Portrait(await straight.Job()), Portrait(await crooked.Job()));
        Assert.Empty(host.Check().Differences);
    }

    private static string Step(Device device, HouseWatch watch, int before, int number) => device.Write(
        number % 2 == 1 ? "stage.started" : "stage.finished",
        watch.Label.ToString(),
        $$"""{"stage":"{{(number <= 2 ? "diagnosis" : "takedown")}}","person":"mara","despite":["needs/quote","intake/declaredValue"]}""",
        number: before + number);

    private static string Note(Device device, HouseWatch watch, int number) =>
        device.Write("note.written", watch.Label.ToString(), $$"""{"text":"{{number}}"}""", number: number);

    private static (string Type, string Data) Anything(Random chance) => chance.Next(7) switch
    {
        0 => ("stage.started", """{"stage":"diagnosis","person":"mara"}"""),
        1 => ("stage.finished", """{"stage":"diagnosis","person":"mara"}"""),
        2 => ("stage.started", """{"stage":"takedown","person":"mara","despite":["needs/quote","needs/diagnosis"]}"""),
        3 => ("stage.sent-back", """{"stage":"takedown","to":"diagnosis","reason":"seen too late"}"""),
        4 => ("piece.taken", """{"kind":"case","person":"jon"}"""),
        5 => ("stage.finished", """{"stage":"rebuild","person":"mara"}"""),
        _ => ("note.written", """{"text":"crown wheel runs dry"}"""),
    };

    // Some moments run against the numbers, some are not told at all.
    private static string TimeOf(Random chance, WorkshopHost host, int number) => chance.Next(6) switch
    {
        0 => "",
        1 => InstantPattern.ExtendedIso.Format(host.Clock.GetCurrentInstant() - Duration.FromMinutes(25 - number + chance.Next(-6, 7))),
        _ => InstantPattern.ExtendedIso.Format(host.Clock.GetCurrentInstant() - Duration.FromMinutes(25 - number)),
    };

    private static async Task<string[]> Lines(HouseWatch watch) =>
        [.. (await watch.Entries()).Select(entry => $"{entry.Id.Id.Split('/')[^1].Split('#')[^1].Replace(watch.Label.ToString(), "", StringComparison.Ordinal)} {entry.Event.Type} {entry.Effective} {entry.Disposition} {string.Join(',', entry.Flags)}")];

    private static string Portrait(Core.Jobs.Job job) =>
        string.Join('\n', job.Standings.Plan.Select(one => $"{one.Stage} {job.Standings.Of(one.Stage).State}").Concat(job.Pieces.Pieces.Select(piece => $"{piece.Id} {piece.Holder}")));
}
