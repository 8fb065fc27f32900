using NodaTime;
using NodaTime.Text;
using Workshop.Core.Agenda;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

/// <summary>Tablets whose clocks are minutes or decades off.</summary>
public class DeviceClockTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    private const string Note = """{"text":"a note"}""";

    [Theory, BothEngines]
    public async Task A_clock_of_the_year_2000_is_right_once_the_device_says_what_it_shows(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromHours(3));
        var behind = host.Clock.GetCurrentInstant() - Instant.FromUtc(2000, 1, 1, 0, 0);
        watch.Bench.Shows = () => host.Clock.GetCurrentInstant() - behind;

        var now = await Says(watch, host.Clock.GetCurrentInstant() - behind);
        host.Clock.Advance(Duration.FromMinutes(10));
        var anHourAgo = await Says(watch, host.Clock.GetCurrentInstant() - behind - Duration.FromMinutes(5));
        watch.Bench.Shows = null;
        var withoutSayingSo = await Says(watch, host.Clock.GetCurrentInstant() - behind);

        Assert.Equal(host.Clock.GetCurrentInstant() - Duration.FromMinutes(10), now.Effective);
        Assert.Empty(now.Flags);
        Assert.Equal(host.Clock.GetCurrentInstant() - Duration.FromMinutes(5), anHourAgo.Effective);
        Assert.Equal([EntryFlag.Late], anHourAgo.Flags);
        Assert.Equal(host.Clock.GetCurrentInstant(), withoutSayingSo.Effective);
        Assert.Empty(withoutSayingSo.Flags);
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_clock_of_the_year_2000_that_nobody_speaks_of_is_suspect_and_receipt_counts(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromHours(3));

        var told = await Says(watch, Instant.FromUtc(2000, 1, 1, 0, 0));

        Assert.Equal(host.Clock.GetCurrentInstant(), told.Effective);
        Assert.Equal([EntryFlag.ClockSuspect], told.Flags);
        Assert.Equal("2000-01-01T00:00:00Z", await host.QueryFirst<string>("select device_time from journal where source = @source", new { source = watch.Bench.Source }));
    }

    [Theory, BothEngines]
    public async Task A_clock_that_is_set_anew_is_noticed_and_nothing_taken_in_before_is_moved(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromHours(30));
        var behind = Duration.FromHours(7);
        watch.Bench.Shows = () => host.Clock.GetCurrentInstant() - behind;
        var before = await Says(watch, host.Clock.GetCurrentInstant() - behind);
        host.Clock.Advance(Duration.FromMinutes(20));
        behind = Duration.FromSeconds(30);

        var at = await Says(watch, host.Clock.GetCurrentInstant() - behind);
        host.Clock.Advance(Duration.FromMinutes(20));
        var after = await Says(watch, host.Clock.GetCurrentInstant() - behind);

        Assert.Empty(before.Flags);
        Assert.Equal([EntryFlag.ClockStepped], at.Flags);
        Assert.Empty(after.Flags);
        Assert.Equal(
            [host.Clock.GetCurrentInstant() - Duration.FromMinutes(40), host.Clock.GetCurrentInstant() - Duration.FromMinutes(20), host.Clock.GetCurrentInstant()],
            (await watch.Entries()).Skip(1).Select(entry => entry.Effective));
    }

    [Theory, BothEngines]
    public async Task Along_one_source_times_never_run_against_its_numbers(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromHours(2));
        var now = host.Clock.GetCurrentInstant();

        var one = await Says(watch, now - Duration.FromMinutes(60));
        var three = await Says(watch, now - Duration.FromMinutes(90));
        var four = await Says(watch, now - Duration.FromMinutes(30));
        var lateTwo = await watch.Bench.Post(watch.Bench.Write("note.written", watch.Label.ToString(), Note, "late-two", InstantPattern.ExtendedIso.Format(now), number: 2));

        Assert.Equal(
            [now - Duration.FromMinutes(60), now - Duration.FromMinutes(60), now - Duration.FromMinutes(30), now - Duration.FromMinutes(30)],
            [one.Effective, three.Effective, four.Effective, lateTwo.Effective]);
        Assert.Equal([EntryFlag.ClockStepped, EntryFlag.Late], three.Flags.Order());
        Assert.Equal(EntryFlag.ClockStepped, lateTwo.Flags.First());
        Assert.Equal((IEnumerable<string>)["e-1", "e-2", "late-two", "e-3"], (await watch.Entries()).Skip(1).Select(entry => entry.Id.Id));
    }

    [Theory]
    [InlineData("soon")]
    [InlineData("2026-13-02T10:00:00Z")]
    [InlineData("0001-01-01T00:00:00Z")]
    [InlineData("9999-12-31T23:59:59Z")]
    public async Task What_a_clock_shows_never_keeps_an_event_from_being_taken_in(string shown)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(StorageEngine.Sqlite));
        watch.Bench.Client.DefaultRequestHeaders.TryAddWithoutValidation("Sent-At", shown);
        using var answer = await watch.Bench.Client.PostAsync(
            "/v1/bench-events", new StringContent(watch.Bench.Write("note.written", watch.Label.ToString(), Note), System.Net.Http.Headers.MediaTypeHeaderValue.Parse("application/cloudevents+json")));

        Assert.Equal("accepted", (await answer.Json()).GetProperty("outcome").GetString());
    }

    [Theory, BothEngines]
    public async Task A_check_started_under_a_suspect_clock_passes_only_after_a_person_has_confirmed_its_start(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await HouseWatch.TakeIn(host);
        await watch.Through(Stage.WaterTest);
        host.Clock.Advance(Duration.FromMinutes(1));
        var began = host.Clock.GetCurrentInstant();
        var tablet = Device.Pair(host);
        var started = await tablet.Post(tablet.Write(
            "wear-check.started", watch.Label.ToString(), """{"kind":"worn","fullyWound":true,"offsetSeconds":0,"place":"winder","person":"mara"}""", time: "2000-01-01T00:00:00Z"));

        await host.Advance(Duration.FromHours(60));
        var line = await host.QueryFirst<string>("select line from agenda where site = 'main' and stream = @stream and kind = 'wear-check'", new { stream = watch.Stream });
        var announced = (await watch.Entries()).Select(entry => entry.Event).OfType<DueAnnounced>().Where(said => said.Kind == AgendaKind.WearCheck).ToArray();
        var read = await watch.ReadWear("6");
        var nobody = await watch.Tells("wear-check.confirmed", """{"kind":"worn"}""");
        var confirmed = await watch.Does("wear-check.confirmed", """{"kind":"worn","person":"mara"}""");

        Assert.Equal([EntryFlag.ClockSuspect], started.Flags);
        Assert.Equal(began + Duration.FromHours(24), started.Moment("due"));
        Assert.Contains("not confirmed", line, StringComparison.Ordinal);
        Assert.Equal(AgendaLevel.Due, Assert.Single(announced).Level);
        Assert.Equal("unconfirmed", read.Whole.GetProperty("reading").GetProperty("verdict").GetString());
        Assert.Equal("+2.4 ± 0.6 s/d. Confirm when it began", read.Line);
        Assert.Equal("person-named", nobody.Gate);
        Assert.Equal("Passed: +2.4 ± 0.6 s/d", confirmed.Line);
        Assert.Equal(StageState.Done, await watch.State(Stage.WearCheck));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task Whoever_confirms_may_say_when_it_truly_began()
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        var watch = await HouseWatch.TakeIn(host);
        await watch.Through(Stage.WaterTest);
        host.Clock.Advance(Duration.FromHours(10));
        var tablet = Device.Pair(host);
        await tablet.Post(tablet.Write(
            "wear-check.started", watch.Label.ToString(), """{"kind":"worn","fullyWound":true,"offsetSeconds":0,"place":"winder","person":"mara"}""", time: "2000-01-01T00:00:00Z"));
        var truly = host.Clock.GetCurrentInstant() - Duration.FromHours(6);
        host.Clock.Advance(Duration.FromHours(20));

        var tooShort = await watch.ReadWear("3");
        await watch.Does("wear-check.confirmed", $$"""{"kind":"worn","person":"mara","startedAt":"{{truly}}"}""");
        var read = await watch.ReadWear("3");

        Assert.Equal("interim", tooShort.Whole.GetProperty("reading").GetProperty("verdict").GetString());
        Assert.Equal(("pass", 26), (read.Whole.GetProperty("reading").GetProperty("verdict").GetString(), read.Whole.GetProperty("reading").GetProperty("elapsedHours").GetDecimal()));
    }

    private static Task<Told> Says(HouseWatch watch, Instant at) =>
        watch.Bench.Post(watch.Bench.Write("note.written", watch.Label.ToString(), Note, time: InstantPattern.ExtendedIso.Format(at)));
}
