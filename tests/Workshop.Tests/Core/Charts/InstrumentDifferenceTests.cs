using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Charts;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Timekeeping;

namespace Workshop.Tests.Core.Charts;

/// <summary>Two instruments on the same watch: which sets are a pair, and what follows from some of them. Figures worked by hand.</summary>
public class InstrumentDifferenceTests
{
    private static readonly Instant Nine = Instant.FromUtc(2026, 3, 2, 8, 0);

    private int sets;

    [Fact]
    public void Three_watches_give_a_mean_and_an_interval_and_two_give_no_interval()
    {
        MeanOfJob[] two = [Set(1, "a", 0, 3, -2), Set(1, "b", 1, 4, -1), Set(2, "a", 0, 5, 1), Set(2, "b", 1, 7, 3)];
        var few = Assert.Single(InstrumentDifference.Of(two, ChartRules.Usual));
        Assert.Equal((1.5m, 2, null), (few.MeanPerDaySeconds, few.Pairs.Length, few.Interval));
        Assert.False(few.Differs);

        var three = Assert.Single(InstrumentDifference.Of([.. two, Set(3, "a", 0, 2, 0), Set(3, "b", 1, 5, 3)], ChartRules.Usual));

        // Differences 1, 2, 3: mean 2, standard deviation 1, t(0.975, 2) = 4.303, half width 4.303 / √3.
        Assert.Equal(("a", "b", 2m, 2.484m), (three.One, three.Other, three.MeanPerDaySeconds, Math.Round(three.Interval!.PlusMinus, 3)));
        Assert.Equal([(Position.DialUp, 3, 2m), (Position.CrownDown, 3, 2m)], three.Positions.Select(at => (at.Position, at.Pairs, at.MeanPerDaySeconds)));
        Assert.False(three.Differs);
    }

    [Fact]
    public void A_difference_that_is_the_same_every_time_is_one()
    {
        var sets = Enumerable.Range(1, 5).SelectMany(job => new[] { Set(job, "a", 0, job, job), Set(job, "b", 1, job + 1.5m + (job * 0.01m), job + 1.5m) });

        Assert.True(Assert.Single(InstrumentDifference.Of(sets, ChartRules.Usual)).Differs);
    }

    [Fact]
    public void Only_positions_that_both_have_measured_are_held_against_each_other()
    {
        var one = Set(1, "a", 0, 3, -20);
        var other = Set(1, "b", 1, 4, null);

        var pair = Assert.Single(Assert.Single(InstrumentDifference.Of([one, other], ChartRules.Usual)).Pairs);

        Assert.Equal(1m, pair.MeanDifference);
        Assert.Equal([Position.DialUp], pair.Differences.Keys);
        Assert.Empty(InstrumentDifference.Of([one, Set(1, "b", 1, null, null, Position.CrownUp)], ChartRules.Usual));
    }

    [Fact]
    public void Another_ground_wind_state_or_running_chronograph_makes_no_pair_nor_does_too_long_a_time()
    {
        var one = Set(1, "a", 0, 3, 1);
        var other = Set(1, "b", 4, 4, 2);
        Assert.Single(InstrumentDifference.Of([one, other], ChartRules.Usual));

        Assert.Empty(Between(mean => mean with { Ground = 1 }));
        Assert.Empty(Between(mean => mean with { WindState = WindState.OneDay }));
        Assert.Empty(Between(mean => mean with { Running = true }));
        Assert.Empty(Between(mean => mean with { Cased = true }, mean => mean with { Cased = false }));
        Assert.Single(Between(mean => mean with { Cased = true }));
        Assert.Empty(Between(mean => mean with { At = Nine + Duration.FromHours(4) + Duration.FromMilliseconds(1) }));
        Assert.Empty(Between(mean => mean with { Instrument = "a" }));
        Assert.Empty(Between(mean => mean with { Instrument = null }));
        Assert.Empty(Between(mean => mean with { WindState = WindState.Unknown }, mean => mean with { WindState = WindState.Unknown }));
        Assert.Empty(Between(mean => mean with { WindState = null }, mean => mean with { WindState = null }));
        Assert.Empty(InstrumentDifference.Of([one, other with { Job = Job(2) }], ChartRules.Usual));

        ImmutableArray<InstrumentDifference> Between(Func<RateMean, RateMean> changed, Func<RateMean, RateMean>? first = null) =>
            InstrumentDifference.Of([one with { Mean = first?.Invoke(one.Mean) ?? one.Mean }, other with { Mean = changed(other.Mean) }], ChartRules.Usual);
    }

    [Fact]
    public void A_set_counts_in_one_pair_with_the_one_nearest_to_it()
    {
        var difference = Assert.Single(InstrumentDifference.Of([Set(1, "a", 0, 1, 1), Set(1, "a", 3, 2, 2), Set(1, "b", 2.5m, 9, 9)], ChartRules.Usual));

        Assert.Equal(7m, Assert.Single(difference.Pairs).MeanDifference);
    }

    private static Label Job(int number) => Label.Complete(LabelKind.Job, [1, 1, 1, 1, 1, number]);

    private MeanOfJob Set(int job, string instrument, decimal hours, decimal? dialUp, decimal? crownDown, Position more = Position.CrownLeft)
    {
        var rates = ImmutableSortedDictionary<Position, decimal>.Empty;
        rates = dialUp is { } flat ? rates.Add(Position.DialUp, flat) : rates;
        rates = crownDown is { } upright ? rates.Add(Position.CrownDown, upright) : rates;
        rates = rates.IsEmpty ? rates.Add(more, 0) : rates;
        return new MeanOfJob(Job(job), new RateMean(
            new EventId("/devices/bench-1/1", $"s{++sets}"), Nine + Duration.FromHours((double)hours), "bench-1", instrument, WindState.Full, null, false, 0,
            rates.Values.Average(), rates.Values.Max() - rates.Values.Min(), rates));
    }
}
