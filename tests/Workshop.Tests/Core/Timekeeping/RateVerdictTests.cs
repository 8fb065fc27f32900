using CsCheck;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;
using static Workshop.Tests.Core.Timekeeping.Measured;

namespace Workshop.Tests.Core.Timekeeping;

/// <summary>By the limits a shop begins with: common practice, no published source.</summary>
public class RateVerdictTests
{
    [Fact]
    public void Six_positions_of_mean_three_and_a_half_and_spread_twelve_pass_a_modern_automatic()
    {
        var verdict = Verdict(Set());

        Assert.Equal(RateOutcome.Passes, verdict.Outcome);
        Assert.Equal(
            [
                new Criterion(CriterionKind.MeanFull, 3.5m, -4, 10, 6.5m, CriterionOutcome.Holds),
                new Criterion(CriterionKind.SpreadFull, 12, null, 15, 3, CriterionOutcome.Holds),
                new Criterion(CriterionKind.FlatFull, 288, 265, null, 23, CriterionOutcome.Holds, Position.DialDown),
                new Criterion(CriterionKind.VerticalFull, 255, 240, null, 15, CriterionOutcome.Holds, Position.CrownDown),
                new Criterion(CriterionKind.BeatError, 0.3m, null, 0.5m, 0.2m, CriterionOutcome.Holds, Position.CrownLeft),
            ],
            verdict.Criteria.AsEnumerable());
        Assert.Equal("Passes modern automatic.", VerdictWords.Of(verdict).First().ToString());
    }

    [Fact]
    public void The_same_without_its_worst_position_looks_better_and_cannot_pass()
    {
        var set = Set(Six.Where(one => one.Position != Position.CrownDown));
        var verdict = Verdict(set);

        Assert.Equal((4.8m, 7m), (set.Figures.MeanPerDaySeconds, set.Figures.SpreadPerDaySeconds));
        Assert.Equal(RateOutcome.Incomplete, verdict.Outcome);
        Assert.Equal([Position.CrownDown], verdict.MissingPositions.AsEnumerable());
        Assert.All(verdict.Criteria, one => Assert.Equal(CriterionOutcome.Holds, one.Outcome));
        Assert.Equal("Cannot pass modern automatic: crown down not measured.", VerdictWords.Of(verdict).First().ToString());
    }

    [Fact]
    public void Rates_alone_pass_and_what_was_not_measured_is_said()
    {
        var verdict = Verdict(Set(Six.Select(one => one with { AmplitudeDegrees = null, BeatErrorMilliseconds = null })));

        Assert.Equal(RateOutcome.Passes, verdict.Outcome);
        Assert.Equal(
            [CriterionKind.FlatFull, CriterionKind.VerticalFull, CriterionKind.BeatError], verdict.Criteria.Where(one => one.Outcome == CriterionOutcome.NotMeasured).Select(one => one.Kind));
        Assert.Contains("Beat error: not measured.", VerdictWords.Of(verdict).Select(words => words.ToString()));
    }

    [Theory]
    [InlineData(WindState.Part)]
    [InlineData(WindState.Unknown)]
    [InlineData(null)]
    public void Half_a_spring_is_judged_by_nothing(WindState? wind) =>
        Assert.Null(RateVerdict.Of(Set(wind: wind), Record(Set(wind: wind)), Kind("modern-automatic"), PlausibilityRules.Usual));

    [Fact]
    public void Where_only_the_hours_since_full_wind_are_told_they_say_the_wind() =>
        Assert.Equal(WindState.OneDay, Verdict(Set(wind: null, told: set => set with { HoursSinceFullWind = 24 })).Wind);

    [Fact]
    public void A_limit_itself_still_passes_and_nothing_is_rounded()
    {
        Assert.Equal(RateOutcome.Passes, Verdict(Set(Shifted(6.5m))).Outcome);
        var beyond = Verdict(Set(Shifted(6.5000001m)));

        Assert.Equal(RateOutcome.Outside, beyond.Outcome);
        Assert.Equal(-0.0000001m, beyond.Of(CriterionKind.MeanFull).Margin);
        Assert.Equal("Mean: +10.04 s/d, at most +10.0 s/d", VerdictWords.Failing(Verdict(Set(Shifted(6.54m))).Failing.First()).ToString());
        Assert.Equal("Amplitude upright: 239.6°, at least 240°", VerdictWords.Failing(Verdict(Set(Shifted(0, -15.4m))).Failing.First()).ToString());
    }

    [Fact]
    public void A_day_later_the_mean_is_compared_with_the_full_set_before_it()
    {
        var (full, later) = (Set(), Set(Shifted(-11, -45), WindState.OneDay, hour: 24));
        var verdict = Verdict(later, full);

        Assert.Equal(full, verdict.ComparedWith);
        Assert.Equal((-11m, -1m, CriterionOutcome.Fails), (verdict.Of(CriterionKind.Isochronism).Figure, verdict.Of(CriterionKind.Isochronism).Margin, verdict.Of(CriterionKind.Isochronism).Outcome));
        Assert.Equal((210m, CriterionOutcome.Holds), (verdict.Of(CriterionKind.VerticalOneDay).Figure, verdict.Of(CriterionKind.VerticalOneDay).Outcome));
        Assert.Equal(RateOutcome.Outside, verdict.Outcome);
    }

    [Fact]
    public void Another_adjustment_or_other_positions_are_no_set_to_compare_with()
    {
        var later = Set(Shifted(-11), WindState.OneDay, hour: 24, adjustment: 1);

        Assert.Null(Verdict(later, Set()).Of(CriterionKind.Isochronism).Figure);
        Assert.Null(Verdict(later, Set(Six.Skip(1), adjustment: 1)).Of(CriterionKind.Isochronism).Figure);
        Assert.Null(Verdict(later, Set(adjustment: 1, hour: 48)).Of(CriterionKind.Isochronism).Figure);
        Assert.Equal(-11m, Verdict(later, Set(adjustment: 1)).Of(CriterionKind.Isochronism).Figure);
    }

    [Theory]
    [InlineData(null, 40)]
    [InlineData(ClutchKind.Lateral, 40)]
    [InlineData(ClutchKind.Vertical, 25)]
    public void A_running_chronograph_is_compared_with_itself_stopped(ClutchKind? clutch, int most)
    {
        var stopped = Set(tolerance: "modern-chronograph");
        var running = Set(Shifted(-8, -30), tolerance: "modern-chronograph", hour: 1, told: set => set with { ChronographRunning = true }, terms: terms => terms with { Clutch = clutch });
        var verdict = Verdict(running, stopped);

        Assert.True(verdict.Running);
        Assert.Equal((-8m, 0m), (verdict.Of(CriterionKind.RunningMean).Figure, verdict.Of(CriterionKind.RunningMean).Margin));
        Assert.Equal((30m, (decimal)most), (verdict.Of(CriterionKind.RunningDrop).Figure, verdict.Of(CriterionKind.RunningDrop).Most));
        Assert.Equal((225m, 210m), (verdict.Of(CriterionKind.RunningVerticalFull).Figure, verdict.Of(CriterionKind.RunningVerticalFull).Least));
        Assert.Equal(most < 30 ? RateOutcome.Outside : RateOutcome.Passes, verdict.Outcome);
    }

    [Fact]
    public void A_running_chronograph_without_limits_of_its_own_is_judged_by_nothing() =>
        Assert.Null(RateVerdict.Of(Set(told: set => set with { ChronographRunning = true }), Record(Set()), null, PlausibilityRules.Usual));

    [Theory]
    [InlineData(10, 0.5, RateOutcome.Passes)]
    [InlineData(60, 0.51, RateOutcome.Outside)]
    [InlineData(30, 0.1, RateOutcome.Incomplete)]
    [InlineData(null, 0.1, RateOutcome.Incomplete)]
    public void A_quartz_watch_is_measured_over_the_window_of_its_module(int? seconds, double rate, RateOutcome outcome)
    {
        var set = Set([new(Position.DialUp, (decimal)rate)], null, "quartz", told: set => set with { LiftAngleDegrees = null, VibrationsPerHour = null, SampleSeconds = seconds });
        var verdict = Verdict(set);

        Assert.Equal(outcome, verdict.Outcome);
        Assert.Equal([CriterionKind.QuartzRate], verdict.Criteria.Select(one => one.Kind));
        Assert.Equal(outcome == RateOutcome.Incomplete, verdict.Criteria[0].Figure is null);
    }

    [Fact]
    public void What_a_manager_has_signed_lets_a_set_pass_and_a_missing_position_never()
    {
        var set = Set(Shifted(8));
        var record = Record(set) with { Exceptions = [Signed(CriterionKind.MeanFull, 0)] };

        var verdict = RateVerdict.Of(set, record, null, PlausibilityRules.Usual)!;

        Assert.Equal((RateOutcome.Passes, CriterionOutcome.Fails), (verdict.Outcome, verdict.Of(CriterionKind.MeanFull).Outcome));
        Assert.Equal("worn pivots", Assert.Single(verdict.Excepted).Reason);
        Assert.Equal("Passes modern automatic with mean rate at full wind signed.", VerdictWords.Of(verdict).First().ToString());
        var five = Set(Shifted(8).SkipLast(1));
        Assert.Equal(RateOutcome.Incomplete, RateVerdict.Of(five, record, null, PlausibilityRules.Usual)!.Outcome);
    }

    [Fact]
    public void A_signature_ends_with_the_adjustment_it_was_given_for()
    {
        var set = Set(Shifted(8), adjustment: 1);

        Assert.Equal(RateOutcome.Outside, RateVerdict.Of(set, Record(set) with { Exceptions = [Signed(CriterionKind.MeanFull, 0)] }, null, PlausibilityRules.Usual)!.Outcome);
    }

    [Fact]
    public void A_figure_moved_away_from_the_middle_never_turns_a_fail_into_a_pass() =>
        Gen.Select(Gen.Int[-400, 600], Gen.Int[-1200, 400], Gen.Int[0, 12], Gen.Int[0, 300], Gen.Int[0, 2]).Sample((rate, amplitude, error, step, which) =>
        {
            // Tenths of a second and of a degree, twentieths of a millisecond. The middle of the window is +3, and the set's own mean +3.5.
            RateReading[] Readings(int more) => [.. Six.Select(one => one with
            {
                RatePerDaySeconds = one.RatePerDaySeconds - 0.5m + ((rate + (which == 0 ? (rate < 0 ? -more : more) : 0)) / 10m),
                AmplitudeDegrees = one.AmplitudeDegrees + ((amplitude - (which == 1 ? more : 0)) / 10m),
                BeatErrorMilliseconds = (error + (which == 2 ? more : 0)) / 20m,
            })];

            return Verdict(Set(Readings(0))).Outcome != RateOutcome.Outside || Verdict(Set(Readings(step))).Outcome == RateOutcome.Outside;
        });

    [Fact]
    public void A_wider_spread_never_turns_a_fail_into_a_pass() =>
        Gen.Select(Gen.Int[0, 300], Gen.Int[0, 300]).Sample((apart, more) =>
        {
            // Crown up faster and crown down slower by the same, so that the mean stays.
            RateReading[] Readings(int tenths) => [.. Six.Select(one => one.Position switch
            {
                Position.CrownUp => one with { RatePerDaySeconds = 3 + (tenths / 10m) },
                Position.CrownDown => one with { RatePerDaySeconds = 3 - (tenths / 10m) },
                _ => one with { RatePerDaySeconds = 3 },
            })];

            return Verdict(Set(Readings(apart))).Outcome != RateOutcome.Outside || Verdict(Set(Readings(apart + more))).Outcome == RateOutcome.Outside;
        });

    [Fact]
    public void The_order_in_which_positions_were_read_changes_nothing() =>
        Gen.Select(Gen.Int[-200, 200].Array[6], Gen.Int[2200, 3200].Array[6], Gen.Shuffle(new[] { 0, 1, 2, 3, 4, 5 })).Sample((rates, amplitudes, order) =>
        {
            RateReading[] readings = [.. Enumerable.Range(0, 6).Select(i => new RateReading((Position)i, rates[i] / 10m, amplitudes[i] / 10m, 0.2m))];
            var (one, other) = (Set(readings), Set(order.Select(i => readings[i])));

            return Verdict(one).Criteria.SequenceEqual(Verdict(other).Criteria)
                && RateDoubts.Of(one, TimekeepingRules.Usual).ToHashSet().SetEquals(RateDoubts.Of(other, TimekeepingRules.Usual))
                && SetMeans.Of(one) == SetMeans.Of(other);
        });

    private static ToleranceException Signed(CriterionKind criterion, int adjustment) =>
        new(new EventId("/devices/office/1", "x-1"), Monday + Duration.FromHours(2), criterion, "worn pivots", "ines", adjustment);
}
