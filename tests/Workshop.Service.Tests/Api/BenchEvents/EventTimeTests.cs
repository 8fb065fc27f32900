using NodaTime;
using NodaTime.Text;
using Workshop.Core.Journal;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.BenchEvents;

public class EventTimeTests(HostOfEachEngine hosts) : IClassFixture<HostOfEachEngine>
{
    private const string Note = """{"text":"a note"}""";

    [Theory, BothEngines]
    public async Task Without_a_time_the_moment_of_receipt_counts_and_nothing_is_flagged(StorageEngine engine)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(engine));

        var told = await watch.Bench.Post(watch.Bench.Write("note.written", watch.Label.ToString(), Note, time: ""));

        Assert.Equal(watch.Bench.Now, told.Effective);
        Assert.Empty(told.Flags);
    }

    [Theory]
    [InlineData(1, false)]
    [InlineData(300, false)]
    [InlineData(301, true)]
    [InlineData(86_400 * 365, true)]
    public async Task A_clock_that_is_ahead_never_makes_anything_later_than_its_receipt(int seconds, bool suspect)
    {
        var watch = await HouseWatch.TakeIn(await hosts.On(StorageEngine.Sqlite));

        var told = await watch.Tells("note.written", Note, at: watch.Bench.Now + Duration.FromSeconds(seconds));

        Assert.Equal(watch.Bench.Now, told.Effective);
        Assert.Equal(suspect ? [EntryFlag.ClockSuspect] : [], told.Flags);
        Assert.Equal(suspect, told.Say.TryGetProperty("more", out _));
    }

    [Theory, BothEngines]
    public async Task A_time_before_the_watch_was_in_the_house_cannot_be(StorageEngine engine)
    {
        var host = await hosts.On(engine);
        var watch = await HouseWatch.TakeIn(host);
        var takenIn = host.Clock.GetCurrentInstant();
        host.Clock.Advance(Duration.FromHours(1));

        var before = await watch.Tells("note.written", Note, at: takenIn - Duration.FromTicks(10));
        var then = await watch.Tells("note.written", Note, at: takenIn);

        Assert.Equal((host.Clock.GetCurrentInstant(), EntryFlag.ClockSuspect), (before.Effective, Assert.Single(before.Flags)));
        Assert.Equal((takenIn, EntryFlag.Late), (then.Effective, Assert.Single(then.Flags)));
    }

    [Fact]
    public async Task A_time_in_whole_seconds_received_within_its_second_comes_after_what_was_heard_before()
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        var wholeSecond = Instant.FromUnixTimeSeconds(host.Clock.GetCurrentInstant().ToUnixTimeSeconds() + 60);
        host.Clock.Reset(wholeSecond + Duration.FromMilliseconds(300));
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromMilliseconds(200));

        var within = await watch.Bench.Post(watch.Bench.Write("note.written", watch.Label.ToString(), Note, time: InstantPattern.General.Format(wholeSecond)));
        var exact = await watch.Tells("note.written", Note, at: wholeSecond + Duration.FromMilliseconds(400));

        Assert.Equal(host.Clock.GetCurrentInstant(), within.Effective);
        Assert.Empty(within.Flags);
        Assert.Equal(wholeSecond + Duration.FromMilliseconds(400), exact.Effective);
    }

    [Theory]
    [InlineData(120_000_000, true)]
    [InlineData(120_000_001, false)]
    public async Task Up_to_two_minutes_ago_it_asks_and_before_that_it_reports(long microseconds, bool asks)
    {
        var host = await hosts.On(StorageEngine.Sqlite);
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromHours(1));

        var told = await watch.Tells("stage.started", """{"stage":"rebuild","person":"mara"}""", at: watch.Bench.Now - Duration.FromTicks(10 * microseconds));

        Assert.Equal(asks ? "refused" : "noted", told.Outcome);
    }

    [Theory, BothEngines]
    public async Task How_long_an_event_asks_is_a_setting(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine, new Dictionary<string, string?> { ["Events:LiveWithin"] = "PT30M" });
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromHours(1));

        Assert.Equal("refused", (await watch.Tells("stage.started", """{"stage":"rebuild"}""", at: watch.Bench.Now - Duration.FromMinutes(30))).Outcome);
        Assert.Equal("noted", (await watch.Tells("stage.started", """{"stage":"rebuild"}""", at: watch.Bench.Now - Duration.FromMinutes(31))).Outcome);
    }

    [Theory, BothEngines]
    public async Task An_event_of_half_past_ten_that_arrives_at_three_stands_between_ten_and_eleven(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await HouseWatch.TakeIn(host);
        var ten = host.Clock.GetCurrentInstant();
        await watch.Does("note.written", """{"text":"ten"}""");
        host.Clock.Advance(Duration.FromHours(1));
        await watch.Does("note.written", """{"text":"eleven"}""");
        host.Clock.Advance(Duration.FromHours(4));

        var told = await watch.Does("note.written", """{"text":"half past ten"}""", at: ten + Duration.FromMinutes(30));

        Assert.Equal([EntryFlag.Late], told.Flags);
        Assert.Equal(
            ["ten", "half past ten", "eleven"],
            (await watch.Entries()).Select(entry => entry.Event).OfType<Core.Notes.NoteWritten>().Select(note => note.Text));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [InlineData("2026-03-02T10:30:00.123456789+01:00", "2026-03-02T09:30:00.123456Z")]
    [InlineData("2026-03-02T10:30:00.1234569999999999999999+01:00", "2026-03-02T09:30:00.123456Z")]
    [InlineData("2026-03-02t10:30:00+01:00", "2026-03-02T09:30:00Z")]
    [InlineData("2026-03-02T09:30:00z", "2026-03-02T09:30:00Z")]
    [InlineData("2026-03-02T09:30:00-00:00", "2026-03-02T09:30:00Z")]
    [InlineData("2026-03-02T09:30:00+00:00", "2026-03-02T09:30:00Z")]
    [InlineData("2026-03-02T22:30:00.5+13:00", "2026-03-02T09:30:00.5Z")]
    [InlineData("2026-03-01T21:30:00-12:00", "2026-03-02T09:30:00Z")]
    [InlineData("2026-03-02T09:29:60Z", "2026-03-02T09:29:59.999999Z")]
    public async Task Every_form_of_rfc_3339_is_read_and_cut_off_at_the_microsecond(string sent, string effective)
    {
        // RFC 3339, section 5.6: T and Z in either case, any number of decimals, -00:00, the leap second.
        await using var host = await WorkshopHost.Start();
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromHours(1));

        var told = await watch.Bench.Post(watch.Bench.Write("note.written", watch.Label.ToString(), Note, time: sent));

        Assert.Equal(InstantPattern.ExtendedIso.Parse(effective).Value, told.Effective);
        Assert.Equal(sent, await host.QueryFirst<string>("select device_time from journal where type = 'note.written'"));
    }

    [Theory]
    [InlineData("2026-03-02 09:30:00Z")]
    [InlineData("2026-03-02T09:30Z")]
    [InlineData("2026-03-02T24:00:00Z")]
    [InlineData("2026-03-02T09:30:00+0100")]
    [InlineData("2026-03-02T09:30:00,5Z")]
    [InlineData("2026-3-2T09:30:00Z")]
    [InlineData("1772442843")]
    public async Task What_only_looks_like_a_moment_is_422(string sent)
    {
        var device = Device.Pair(await hosts.On(StorageEngine.Sqlite));

        var told = await device.Post(device.Write("note.written", "J7K3MQ4T", Note, time: sent));

        Assert.Equal("/time", Assert.Single(told.Pointers));
    }
}
