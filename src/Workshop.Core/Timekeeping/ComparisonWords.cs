using Workshop.Core.Words;

namespace Workshop.Core.Timekeeping;

/// <summary>Several sets in sentences.</summary>
public static class ComparisonWords
{
    public static Phrase Isochronism(RateChange change) => Phrase.Of(
        "After a day {0} s/d, at full wind {1} s/d: a change of {2} s/d over {3} positions.", Figure.Signed(change.MeanAfterPerDaySeconds), Figure.Signed(change.MeanBeforePerDaySeconds),
        Figure.Signed(change.ChangePerDaySeconds), change.Positions.Length);

    public static Phrase BeforeAndAfter(RateChange change) => Phrase.Of(
        "As received mean {0} and spread {1} s/d, now mean {2} and spread {3} s/d, over {4} positions.", Figure.Signed(change.MeanBeforePerDaySeconds), new Figure(change.SpreadBeforePerDaySeconds),
        Figure.Signed(change.MeanAfterPerDaySeconds), new Figure(change.SpreadAfterPerDaySeconds), change.Positions.Length);

    public static Phrase Of(AmplitudeDependence slope) => Phrase.Of(
        "{0} s/d for each 10° more amplitude, between {1}° and {2}°, from {3} readings.", new Figure(slope.PerDaySecondsPerTenDegrees, "+0.00;-0.00;0.00"), new Figure(slope.LeastDegrees, "0"),
        new Figure(slope.MostDegrees, "0"), slope.Readings);

    public static IEnumerable<Phrase> Of(RegulationTarget target)
    {
        yield return target.MoveByPerDaySeconds switch
        {
            > 0 => Phrase.Of("Move it {0} s/d faster: on the wrist it would then keep {1} s/d.", new Figure(target.MoveByPerDaySeconds), Figure.Signed(target.AimPerDaySeconds)),
            < 0 => Phrase.Of("Move it {0} s/d slower: on the wrist it would then keep {1} s/d.", new Figure(-target.MoveByPerDaySeconds), Figure.Signed(target.AimPerDaySeconds)),
            _ => Phrase.Of("Leave the index: on the wrist it keeps {0} s/d already.", Figure.Signed(target.AimPerDaySeconds)),
        };
        yield return target.SpreadTooWide
            ? Phrase.Of("The spread of {0} s/d is more than {1}, and regulation does not change it: poise, or the hairspring.", new Figure(target.SpreadPerDaySeconds), new Figure(target.SpreadMostSeconds!.Value))
            : Phrase.Of("Regulation moves every position alike: the spread of {0} s/d stays.", new Figure(target.SpreadPerDaySeconds));
    }
}
