using System.Diagnostics;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Route;
using Workshop.Core.Words;
using Workshop.Service.Storage;
using Workshop.Service.Tasks;
using Workshop.Service.Tests.Api;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Tasks;

/// <summary>What falls due is said once each: when it is due, when it is overdue, and to the manager.</summary>
public class SweepDueTests
{
    private static readonly DateTimeZone Zurich = DateTimeZoneProviders.Tzdb["Europe/Zurich"];

    [Theory, BothEngines]
    public async Task A_worn_check_is_announced_when_due_four_working_hours_later_and_a_working_day_later(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await Started(host, new LocalDateTime(2026, 3, 3, 10, 0));

        await SweepAt(host, new LocalDateTime(2026, 3, 4, 9, 59));
        Assert.Empty(await Said(watch));
        await SweepAt(host, new LocalDateTime(2026, 3, 4, 10, 0));
        await SweepAt(host, new LocalDateTime(2026, 3, 4, 10, 1));
        Assert.Equal(["due"], await Said(watch));
        await SweepAt(host, new LocalDateTime(2026, 3, 4, 13, 59));
        Assert.Equal(["due"], await Said(watch));
        await SweepAt(host, new LocalDateTime(2026, 3, 4, 14, 0));
        Assert.Equal(["due", "overdue"], await Said(watch));
        await SweepAt(host, new LocalDateTime(2026, 3, 5, 10, 0));
        await SweepAt(host, new LocalDateTime(2026, 3, 9, 10, 0));

        Assert.Equal(["due", "overdue", "manager"], await Said(watch));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_sweep_that_comes_late_says_each_thing_once_and_two_at_once_say_nothing_twice(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await Started(host, new LocalDateTime(2026, 3, 3, 10, 0));
        host.Clock.Reset(At(new LocalDateTime(2026, 3, 12, 10, 0)));

        await Task.WhenAll(host.Sweep(), host.Sweep(), host.Sweep());
        await host.Sweep();

        Assert.Equal(["due", "overdue", "manager"], await Said(watch));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_row_that_nobody_can_say_keeps_no_other_from_being_said(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var (sick, well) = (await Started(host, new LocalDateTime(2026, 3, 3, 10, 0)), await Started(host, new LocalDateTime(2026, 3, 3, 10, 5)));
        await host.Services.GetRequiredService<Writer>().Turn(
            WorkshopHost.Site, turn => turn.Execute("update journal set data = 'no JSON' where site = @site and stream = @stream and type = 'wear-check.started'", new { site = turn.Site, stream = sick.Stream }));
        await host.Restart();

        await SweepAt(host, new LocalDateTime(2026, 3, 4, 11, 0));

        Assert.Equal(1, await host.QueryFirst<long>("select count(*) from journal where site = 'main' and stream = @stream and type = 'due.announced'", new { stream = well.Stream }));
        Assert.Equal(0, await host.QueryFirst<long>("select count(*) from journal where site = 'main' and stream = @stream and type = 'due.announced'", new { stream = sick.Stream }));
    }

    [Fact]
    public async Task Two_instances_that_sweep_at_the_same_time_say_nothing_twice()
    {
        await using var database = await PostgresDatabase.Create();
        await using var one = await WorkshopHost.Start(StorageEngine.Postgres, connection: database.ConnectionString);
        await using var other = await WorkshopHost.Start(StorageEngine.Postgres, connection: database.ConnectionString);
        var watches = new List<HouseWatch>();
        for (var i = 0; i < 3; i++)
        {
            watches.Add(await Started(one, new LocalDateTime(2026, 3, 3 + i, 10, 0)));
        }

        one.Clock.Reset(At(new LocalDateTime(2026, 3, 12, 10, 0)));
        other.Clock.Reset(At(new LocalDateTime(2026, 3, 12, 10, 0)));
        await Task.WhenAll(one.Sweep(), other.Sweep(), one.Sweep(), other.Sweep());

        foreach (var watch in watches)
        {
            Assert.Equal(["due", "overdue", "manager"], await Said(watch));
        }

        Assert.Empty(one.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task What_is_due_with_a_commit_is_said_without_waiting_for_the_alarm_clock(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await HouseWatch.TakeIn(host);
        using var waking = ActivatorUtilities.CreateInstance<WakeTheSweep>(host.Services);
        await waking.StartAsync(CancellationToken.None);

        // A report that changes nothing waits for a manager from now on; no other task runs in this host.
        await watch.Tells("stage.finished", """{"stage":"rebuild","person":"mara","already":true}""");
        var said = await Announced(watch);
        for (var began = Stopwatch.GetTimestamp(); said.Length == 0 && Stopwatch.GetElapsedTime(began) < TimeSpan.FromSeconds(60); said = await Announced(watch))
        {
            await Task.Delay(20);
        }

        await waking.StopAsync(CancellationToken.None);
        Assert.Equal((AgendaKind.Review, AgendaLevel.Manager), (Assert.Single(said).Kind, said[0].Level));
    }

    [Theory, BothEngines]
    public async Task A_paused_check_is_silent_and_a_moment_that_moved_is_announced_anew(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await Started(host, new LocalDateTime(2026, 3, 3, 10, 0));
        host.Clock.Reset(At(new LocalDateTime(2026, 3, 3, 18, 0)));
        await watch.Does("wear-check.paused", """{"kind":"worn"}""");

        await SweepAt(host, new LocalDateTime(2026, 3, 4, 12, 0));
        Assert.Empty(await Said(watch));

        // Sixteen hours in the drawer: due at two in the morning instead of at ten.
        await watch.Does("wear-check.resumed", """{"kind":"worn","place":"winder"}""", at: At(new LocalDateTime(2026, 3, 4, 10, 0)));
        await SweepAt(host, new LocalDateTime(2026, 3, 5, 1, 59));
        Assert.Empty(await Said(watch));
        await SweepAt(host, new LocalDateTime(2026, 3, 5, 2, 0));
        Assert.Equal(["due"], await Said(watch));

        // An hour more, told late: the due moment is another one, and is said again.
        await watch.Does("wear-check.paused", """{"kind":"worn"}""", at: At(new LocalDateTime(2026, 3, 4, 20, 0)));
        await watch.Does("wear-check.resumed", """{"kind":"worn","place":"winder"}""", at: At(new LocalDateTime(2026, 3, 4, 21, 0)));
        await SweepAt(host, new LocalDateTime(2026, 3, 5, 3, 0));

        Assert.Equal(["due", "due"], await Said(watch));
        Assert.Equal(2, (await Announced(watch)).Select(one => one.Due).Distinct().Count());
    }

    [Theory, BothEngines]
    public async Task A_check_that_was_read_is_not_announced(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await Started(host, new LocalDateTime(2026, 3, 3, 10, 0));
        host.Clock.Reset(At(new LocalDateTime(2026, 3, 4, 9, 0)));
        await watch.ReadWear("3");

        await SweepAt(host, new LocalDateTime(2026, 3, 9, 10, 0));

        Assert.Empty(await Said(watch));
    }

    [Theory, BothEngines]
    public async Task The_third_fail_is_the_managers_and_said_once(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.WaterTest);
        for (var fail = 0; fail < 3; fail++)
        {
            // After two fails in the same hands a second watchmaker looks.
            await watch.StartWear(person: fail < 2 ? "mara" : "jonas");
            host.Clock.Advance(Duration.FromHours(24));
            Assert.Equal("outside", (await watch.ReadWear("14")).Whole.GetProperty("reading").GetProperty("verdict").GetString());
            Assert.DoesNotContain(await Announced(watch), one => one.Kind == AgendaKind.WearCheckFails);
        }

        await host.Sweep();
        await host.Sweep();

        Assert.Equal(AgendaLevel.Manager, Assert.Single(await Announced(watch), one => one.Kind == AgendaKind.WearCheckFails).Level);
        Assert.Equal("repeats-decided", (await watch.Tells("wear-check.started", """{"kind":"worn","fullyWound":true,"offsetSeconds":0,"person":"mara"}""")).Gate);
    }

    [Theory, BothEngines]
    public async Task A_job_is_closed_the_day_after_its_last_warranty_line(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.HandedOver);
        var last = (await watch.Job()).Warranty.Lines.Max(line => line.LastDay);

        host.Clock.Reset(Zurich.AtStartOfDay(last.PlusDays(1)).ToInstant() - Duration.FromSeconds(1));
        await host.Sweep();
        Assert.NotEqual(StageState.Done, await watch.State(Stage.Closed));

        host.Clock.Advance(Duration.FromSeconds(1));
        await host.Sweep();
        await host.Sweep();

        Assert.Equal(StageState.Done, await watch.State(Stage.Closed));
        Assert.Single(await watch.Entries(), entry => entry.Event.Type == "job.closed");
        Assert.Empty(host.Check().Differences);
    }

    private static async Task<HouseWatch> Started(WorkshopHost host, LocalDateTime start)
    {
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.WaterTest);
        host.Clock.Reset(At(start));
        await watch.StartWear();
        return watch;
    }

    private static async Task SweepAt(WorkshopHost host, LocalDateTime local)
    {
        host.Clock.Reset(At(local));
        await host.Sweep();
    }

    private static Instant At(LocalDateTime local) => local.InZoneStrictly(Zurich).ToInstant();

    private static async Task<string[]> Said(HouseWatch watch) =>
        [.. (await Announced(watch)).Where(one => one.Kind == AgendaKind.WearCheck).Select(one => Word.Of(one.Level))];

    private static async Task<DueAnnounced[]> Announced(HouseWatch watch) => [.. (await watch.Entries()).Select(entry => entry.Event).OfType<DueAnnounced>()];
}
