using Workshop.Core.Jobs;
using Workshop.Core.Shop;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>Puts a rate set into words for the person who measured it: what is odd first, then the verdict, else mean and spread.</summary>
internal static class RateSaying
{
    public static (Signal Signal, Phrase Line) Of(RateSet set, Job job, ShopRules rules)
    {
        if (RateDoubts.Of(set, rules.Timekeeping).FirstOrDefault(doubt => doubt.Asks) is { } doubt)
        {
            return (Signal.Ask, doubt.Line());
        }

        return VerdictOn(set, job, rules) switch
        {
            { Outcome: RateOutcome.Outside } outside => (Signal.Ask, VerdictWords.Failing(outside.Failing.First())),
            { Outcome: RateOutcome.Passes } => (Signal.Ok, Phrase.Of("Passes: mean {0}, spread {1} s/d", Figure.Signed(set.Figures.MeanPerDaySeconds), new Figure(set.Figures.SpreadPerDaySeconds))),
            _ => (Signal.Ok, Measured(set.Figures)),
        };
    }

    /// <summary>What does not go into the line.</summary>
    public static IEnumerable<Phrase?> More(RateSet set, Job job, ShopRules rules)
    {
        var doubts = RateDoubts.Of(set, rules.Timekeeping);
        foreach (var further in doubts.Where(doubt => doubt.Asks).Skip(1).Concat(doubts.Where(doubt => !doubt.Asks)))
        {
            yield return further.Line();
        }

        if (VerdictOn(set, job, rules) is { Outcome: RateOutcome.Incomplete, MissingPositions.IsEmpty: false } incomplete)
        {
            yield return Phrase.Of("Not measured: {0}. Without them it cannot pass.", new Series([.. incomplete.MissingPositions.Select(one => (object)one)]));
        }

        if (set.Terms is { CrownHour: null } terms && set.Told.Readings.Any(reading =>
            reading.ToldPosition is { } told && PositionWords.Read(told, rules.Timekeeping.PositionAliases, terms.CrownHourTaken()) is { ByMark: true }))
        {
            yield return Phrase.Of("The crown is taken to sit at three; nobody has said where it is.");
        }
    }

    private static RateVerdict? VerdictOn(RateSet set, Job job, ShopRules rules) =>
        RateVerdict.Of(set, job.Timekeeping, rules.ToleranceOf(job.Route), rules.Timekeeping.Plausibility);

    private static Phrase Measured(RateSetFigures set)
    {
        var (mean, spread) = (Figure.Signed(set.MeanPerDaySeconds), new Figure(set.SpreadPerDaySeconds));
        return set.Positions.Length == 1 ? Phrase.Of("Mean {0}, spread {1} s/d, 1 position", mean, spread) : Phrase.Of("Mean {0}, spread {1} s/d, {2} positions", mean, spread, set.Positions.Length);
    }
}
