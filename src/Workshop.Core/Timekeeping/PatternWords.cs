using Workshop.Core.Words;

namespace Workshop.Core.Timekeeping;

/// <summary>Patterns and predictions in sentences.</summary>
public static class PatternWords
{
    private const int QuarterTurn = 90;

    // In the order in which the angle of the crown grows.
    private static readonly Position[] Quarters = [Position.CrownUp, Position.CrownLeft, Position.CrownDown, Position.CrownRight];

    public static IEnumerable<Phrase> Of(PositionPattern pattern)
    {
        yield return Swing(pattern);
        yield return pattern.ResidualPerDaySeconds is { } residual
            ? Phrase.Of("The four vertical rates lie {0} s/d off that.", new Figure(Math.Abs(residual)))
            : Phrase.Of("Three vertical positions are met exactly: nothing is left over that would show how well it fits.");
        if (pattern.FlatLessVerticalPerDaySeconds is { } flat)
        {
            yield return Phrase.Of("Flat less vertical: {0} s/d.", Figure.Signed(flat));
        }
    }

    public static IEnumerable<Phrase> Of(PredictedRate predicted, WearProfile profile)
    {
        yield return Phrase.Of("On the wrist about {0} s/d, by the hours of the shop's wear profile.", Figure.Signed(predicted.RatePerDaySeconds));
        var left = predicted.Missing.Sum(profile.HoursIn);
        if (left > 0)
        {
            yield return Phrase.Of("{0} h of it are left out, in positions that were not measured: {1}.", new Figure(left, "0.#"), new Series([.. predicted.Missing.Select(position => (object)position)]));
        }
    }

    private static Phrase Swing(PositionPattern pattern)
    {
        if (pattern.FastestCrownDegrees is not { } degrees)
        {
            return Phrase.Of("The vertical positions are alike, {0} s/d.", Figure.Signed(pattern.VerticalMeanPerDaySeconds));
        }

        var quarter = (int)(degrees / QuarterTurn);
        return Phrase.Of(
            "Vertical {0} ± {1} s/d, fastest {2}° from {3} towards {4}.", Figure.Signed(pattern.VerticalMeanPerDaySeconds), new Figure(pattern.HalfSwingPerDaySeconds),
            new Figure(degrees - (quarter * QuarterTurn), "0"), Quarters[quarter % 4], Quarters[(quarter + 1) % 4]);
    }
}
