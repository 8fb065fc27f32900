using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Charts;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Charts;

/// <summary>What instruments show more than others on the same watches.</summary>
/// <param name="Since">Sets from this moment on.</param>
/// <param name="WithinHours">Two sets are of one time when no more than this lies between them.</param>
public sealed record InstrumentDifferencesView(Instant Since, decimal WithinHours, ImmutableArray<InstrumentDifferenceView> Items);

/// <summary>Seconds per day, to two decimals; the other's rate less the one's.</summary>
/// <param name="Pairs">Watches measured by both, with nothing done to them in between; each set counts in one pair.</param>
/// <param name="Interval">95 % by Student's t; absent with fewer than three pairs.</param>
/// <param name="Differs">The interval leaves out zero.</param>
/// <param name="Positions">One by one, where both have measured them.</param>
/// <param name="Words">In the caller's language.</param>
public sealed record InstrumentDifferenceView(
    string One, string Other, int Pairs, decimal MeanPerDaySeconds, IntervalView? Interval, bool Differs, ImmutableArray<PositionDifferenceView> Positions, string Words);

/// <param name="T">Student's t for 95 % and the degrees of freedom, one fewer than pairs.</param>
public sealed record IntervalView(decimal LowestPerDaySeconds, decimal HighestPerDaySeconds, decimal StandardDeviationSeconds, decimal T);

public sealed record PositionDifferenceView(Position Position, int Pairs, decimal MeanPerDaySeconds, IntervalView? Interval);

/// <summary>Two instruments that show different rates of the same watch are told from each other before a customer is told two rates.</summary>
public static class ReadInstrumentDifferences
{
    public static async Task<Done<InstrumentDifferencesView>> Handle(Caller caller, LanguageAsked language, Reader reader, ShopRulesSource source, IClock clock, CancellationToken cancel)
    {
        var rules = (await source.Read(caller.Site, cancel)).Charts;
        var since = clock.GetCurrentInstant() - Duration.FromDays(rules.DaysOfInstruments);
        var means = await reader.Read(connection => RateRows.Means(connection, caller.Site, since).ToArray(), cancel);
        return Answer.Done(new InstrumentDifferencesView(
            since, rules.HoursBetweenInstruments, [.. InstrumentDifference.Of(means, rules).Select(one => Shown(one, language.Best))]));
    }

    private static InstrumentDifferenceView Shown(InstrumentDifference one, Language language) => new(
        one.One, one.Other, one.Pairs.Length, Rounded(one.MeanPerDaySeconds), Shown(one.Interval), one.Differs,
        [.. one.Positions.Select(at => new PositionDifferenceView(at.Position, at.Pairs, Rounded(at.MeanPerDaySeconds), Shown(at.Interval)))],
        Said(one).In(language));

    private static Phrase Said(InstrumentDifference one) => one.Interval is not { } interval
        ? Phrase.Of("{0} shows {1} s/d more than {2} in {3} pairs; with fewer than {4} nothing can be said.", one.Other, PlotWords.Tenths(one.MeanPerDaySeconds), one.One, one.Pairs.Length, InstrumentDifference.LeastPairs)
        : one.Differs ? Phrase.Of("{0} shows {1} s/d more than {2}: {3} to {4} s/d, {5} pairs.", one.Other, PlotWords.Tenths(one.MeanPerDaySeconds), one.One, PlotWords.Tenths(interval.Lowest), PlotWords.Tenths(interval.Highest), one.Pairs.Length)
        : Phrase.Of("{0} and {1} may well show the same: {2} to {3} s/d, {4} pairs.", one.One, one.Other, PlotWords.Tenths(interval.Lowest), PlotWords.Tenths(interval.Highest), one.Pairs.Length);

    private static IntervalView? Shown(StudentInterval? interval) => interval is null ? null : new IntervalView(
        Rounded(interval.Lowest), Rounded(interval.Highest), Rounded(interval.StandardDeviation), Math.Round(interval.T, 3, MidpointRounding.AwayFromZero));

    private static decimal Rounded(decimal figure) => Math.Round(figure, 2, MidpointRounding.AwayFromZero);
}
