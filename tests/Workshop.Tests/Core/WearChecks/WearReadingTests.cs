using CsCheck;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core.WearChecks;

/// <summary>Several readings of one check, and what a reading shows besides its rate.</summary>
public class WearReadingTests
{
    private static readonly WearVerdict[] FromSlowToFast = [WearVerdict.OutsideFar, WearVerdict.Outside, WearVerdict.Inconclusive, WearVerdict.Pass];

    [Fact]
    public void Three_readings_are_judged_by_the_line_through_them()
    {
        var story = Running();
        story.At(Start(story) + Duration.FromHours(12)).Does(Read(1.4m)).At(Start(story) + Duration.FromHours(24)).Does(Read(3m));

        var (first, last) = (Check(story).Readings[0], Check(story).Readings[1]);
        Assert.Null(first.Fit);
        Assert.Equal(3, last.Fit!.Readings);

        // The mean of three points at equal steps has no say in their slope.
        Assert.Equal(3m, last.RatePerDaySeconds);
        Assert.Equal(last.Fit.PlusMinusSeconds, last.PlusMinusSeconds);
        Assert.Equal((1.4m, 1m), (first.OffsetSeconds, first.UncertaintySeconds));
        Assert.Equal(3, Check(story).Points().Count());
    }

    [Fact]
    public void Readings_that_scatter_leave_the_rate_open_although_the_ends_would_pass()
    {
        var story = Running();
        story.At(Start(story) + Duration.FromHours(12)).Does(Read(9m)).At(Start(story) + Duration.FromHours(24)).Does(Read(3m));

        Assert.Equal(WearVerdict.Inconclusive, Check(story).Readings[^1].Verdict);
        Assert.True(Check(story).Readings[^1].PlusMinusSeconds > 50);
    }

    [Fact]
    public void The_order_in_which_readings_are_told_changes_nothing()
    {
        decimal[] offsets = [0.8m, 1.5m, 2.4m, 3.1m];
        var inOrder = Told([0, 1, 2, 3]);
        foreach (var order in new[] { new[] { 3, 2, 1, 0 }, [1, 3, 0, 2], [2, 0, 1, 3] })
        {
            var other = Told(order);
            Assert.Equal(inOrder.Readings.Select(Figures), other.Readings.Select(Figures));
            Assert.Equal(inOrder.Verdict, other.Verdict);
        }

        WearCheck Told(int[] order)
        {
            var story = Running();
            var start = Start(story);
            story.At(start + Duration.FromHours(25));
            foreach (var i in order)
            {
                story.Does(Read(offsets[i]) with { Interim = i < 3 }, at: start + Duration.FromHours(6 * (i + 1)), source: $"/devices/bench-{i}/1");
            }

            return Check(story);
        }

        static (Instant, WearVerdict, decimal?, decimal?) Figures(WearReading reading) => (reading.At, reading.Verdict, reading.RatePerDaySeconds, reading.PlusMinusSeconds);
    }

    [Fact]
    public void A_watch_that_gains_more_is_never_judged_slower() =>
        Gen.Select(Gen.Int[-400, 400], Gen.Int[0, 300], Gen.Int[-30, 30], Gen.Int[2, 22]).Sample((tenths, more, middle, hours) =>
        {
            var (one, other) = (Of(tenths / 10m), Of((tenths + more) / 10m));

            // The same scatter about two lines of which the second is steeper.
            Assert.True(other.RatePerDaySeconds >= one.RatePerDaySeconds);
            Assert.True(Rank(other) >= Rank(one), $"{one.RatePerDaySeconds} {one.Verdict}, {other.RatePerDaySeconds} {other.Verdict}");

            WearReading Of(decimal offset)
            {
                var check = Check(offset * hours / 24 + middle / 100m, hours);
                return WearJudge.Of(check, Read(offset), new EventId("/devices/bench-1/1", "e9"), check.StartedAt + Duration.FromHours(24));
            }
        }, iter: 300);

    [Fact]
    public void Midnights_are_counted_in_the_shops_zone_and_what_the_bench_counted_is_held_against_them()
    {
        // From a Tuesday afternoon, the last day of March, over one night and the end of the month.
        var story = new Story().Through(Stage.WaterTest).At(2026, 3, 31, 15).Does(Story.WearStart());
        story.At(2026, 4, 1, 16).Does(Read(3) with { Midnights = 1, Interim = true });
        Assert.Equal((1, 1), (Check(story).Readings[^1].Midnights, Check(story).Readings[^1].MonthEnds));
        Assert.Empty(Check(story).Readings[^1].Notices.ToArray());

        story.At(2026, 4, 2, 16).Does(Read(6) with { Midnights = 1, DateJumped = false });
        Assert.Equal([WearNotice.MidnightsDiffer, WearNotice.DateDidNotJump], Check(story).Readings[^1].Notices.ToArray());
        Assert.Contains(EntryFlag.MidnightsDiffer, story.Entries[^1].Flags);
    }

    [Fact]
    public void A_rate_unlike_what_the_last_set_foretells_says_so()
    {
        // Dial up +4 for 11 h and crown down +2 for 6 h: 56/17 s/d.
        var story = Running();
        Assert.Equal(56m / 17, Check(story).Terms.PredictedPerDaySeconds);

        story.After(Duration.FromHours(24)).Does(Read(8.2m) with { Interim = true }).Does(Read(8.4m) with { ReadBy = ReadBy.Display, StepSeconds = 0.01m, Interim = true });
        Assert.Empty(Check(story).Readings[0].Notices.ToArray());

        story = Running().After(Duration.FromHours(48)).Does(Read(-4m));
        Assert.Equal([WearNotice.UnlikePrediction], Check(story).Readings[^1].Notices.ToArray());
        Assert.Equal(-2 - 56m / 17, Check(story).Readings[^1].UnlikePredictionSeconds);
        Assert.Contains(EntryFlag.UnlikePrediction, story.Entries[^1].Flags);
    }

    [Fact]
    public void What_was_measured_before_the_index_was_touched_foretells_nothing()
    {
        var story = new Story().Through(Stage.Regulation).Does(new IndexTouched());

        Assert.Null(story.Job.PredictedRate(WearProfile.Usual));
        Assert.NotNull(story.Does(Story.RateSet, at: story.Now + Duration.FromMinutes(1)).Job.PredictedRate(WearProfile.Usual));
    }

    [Theory]
    [InlineData(false, null, 3, true)]
    [InlineData(null, true, 3, true)]
    [InlineData(false, null, 14, false)]
    [InlineData(true, false, 3, false)]
    public void Hands_askew_or_mist_are_no_pass_without_a_word(bool? aligned, bool? mist, int offset, bool asked)
    {
        var story = Running().After(Duration.FromHours(24));
        var read = Read(offset) with { HandsAligned = aligned, Mist = mist };

        Assert.Equal(asked ? ["looks-right"] : [], story.Says(read).Against.Select(gate => gate.Gate));
        if (asked)
        {
            story.Does(read, despite: ["looks-right"]);
            Assert.Equal(StageState.Done, story[Stage.WearCheck]);
            Assert.Equal([mist == true ? WearNotice.Mist : WearNotice.HandsNotAligned], Check(story).Readings[^1].Notices.ToArray());
        }
    }

    [Fact]
    public void A_week_asks_for_midnights_and_resets_and_refuses_nothing()
    {
        var story = new Story(TestShop.FullChronograph).Through(Stage.WaterTest).Does(Story.WearStart() with { Owed = Duration.FromHours(168) });
        story.After(Duration.FromHours(168)).Does(Read(14) with { Midnights = 2, Resets = new Resets(40, 39) });

        Assert.Equal(WearVerdict.Pass, Check(story).Readings[^1].Verdict);
        Assert.Equal([WearNotice.MidnightsDiffer, WearNotice.ResetsWrong, WearNotice.FewMidnights, WearNotice.FewResets], Check(story).Readings[^1].Notices.ToArray());

        story = new Story(TestShop.FullChronograph).Through(Stage.WaterTest).Does(Story.WearStart() with { Owed = Duration.FromHours(168) });
        story.After(Duration.FromHours(168)).Does(Read(14) with { Resets = new Resets(70, 70) });
        Assert.Empty(Check(story).Readings[^1].Notices.ToArray());
    }

    // The service's clock jumped.

    [Theory]
    [InlineData(TimeReference.Server, WearVerdict.Inconclusive)]
    [InlineData(null, WearVerdict.Inconclusive)]
    [InlineData(TimeReference.Radio, WearVerdict.Pass)]
    public void A_reading_against_a_clock_that_jumped_tells_nothing(TimeReference? reference, WearVerdict verdict)
    {
        var story = Stepped().Does(Read(3) with { Reference = reference });

        Assert.Equal(verdict, Check(story).Readings[^1].Verdict);
        Assert.Equal(verdict == WearVerdict.Inconclusive, Check(story).Readings[^1].Notices.Contains(WearNotice.ClockStepped));
        Assert.Null(Check(story).Readings[^1].SettledAfter);
    }

    [Fact]
    public void Somebody_who_confirms_the_start_after_the_clock_jumped_settles_it()
    {
        var story = Stepped().Does(Read(3) with { Reference = TimeReference.Server }).Does(new WearCheckConfirmed { Kind = WearCheckKind.Worn });

        Assert.Equal(WearVerdict.Pass, Check(story).Verdict);
        Assert.Equal(StageState.Done, story[Stage.WearCheck]);
    }

    private static Story Stepped()
    {
        var story = Running().After(Duration.FromHours(5));
        story.Hears(new ClockStepped { BySeconds = 7 }, story.Job.WearChecks.Running!.Start);
        return story.After(Duration.FromHours(19));
    }

    private static int Rank(WearReading reading)
    {
        var rank = Array.IndexOf(FromSlowToFast, reading.Verdict);
        return reading.RatePerDaySeconds > 3 ? 6 - rank : rank;
    }

    private static WearCheck Check(decimal offset, int hours)
    {
        var start = Instant.FromUtc(2026, 3, 3, 9, 0);
        var check = new WearCheck
        {
            Start = new EventId("/devices/bench-1/1", "e1"),
            StartedAt = start,
            OffsetSeconds = 0,
            Terms = new WearTerms
            {
                Window = new RateWindow(-4, 10),
                Owed = Duration.FromHours(24),
                ForAPass = Duration.FromHours(22),
                FlaggedBeyond = Duration.FromHours(72),
                StartUncertaintySeconds = 1,
                ByEyeSeconds = 1,
                FailsBeforeTheManager = 3,
            },
        };
        var between = WearJudge.Of(check, Read(offset) with { Interim = true }, new EventId("/devices/bench-1/1", "e2"), start + Duration.FromHours(hours));
        return check with { Readings = [between] };
    }

    private static WearCheckRead Read(decimal offset) => Story.WearRead(offset);

    private static Story Running() => new Story().Through(Stage.WaterTest).Does(Story.WearStart());

    private static WearCheck Check(Story story) => story.Job.WearChecks.Checks[^1];

    private static Instant Start(Story story) => Check(story).StartedAt;
}
