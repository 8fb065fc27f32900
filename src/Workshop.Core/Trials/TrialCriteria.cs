using System.Collections.Immutable;
using Workshop.Core.Timekeeping;

namespace Workshop.Core.Trials;

/// <summary>The seven figures of ISO 3159, by what they are.</summary>
public enum TrialCriterion
{
    /// <summary>M: mean of the rates of days 1 to 10.</summary>
    MeanRate,

    /// <summary>V: mean of the five differences between the two days of a position.</summary>
    MeanVariation,

    /// <summary>Vmax: the greatest of those five.</summary>
    GreatestVariation,

    /// <summary>D: mean of days 1 and 2 (vertical) less mean of days 9 and 10 (horizontal).</summary>
    VerticalLessHorizontal,

    /// <summary>P: the greatest difference of one of days 1 to 10 from their mean.</summary>
    GreatestFromMean,

    /// <summary>C: the hot day less the cold day, for each degree between them.</summary>
    VariationWithTemperature,

    /// <summary>R: the last day less the mean of days 1 and 2.</summary>
    Resumption,
}

/// <summary>The two sizes of movement that have limits of their own.</summary>
public enum TrialCategory
{
    /// <summary>Category 1: a diameter of 20 mm or more.</summary>
    TwentyMillimetresAndOver,

    /// <summary>Category 2: a diameter under 20 mm.</summary>
    UnderTwentyMillimetres,
}

/// <summary>One criterion of a trial.</summary>
/// <param name="Figure">Seconds per day; for the temperature, seconds per day and degree. Unrounded.</param>
/// <param name="Limits">Both bounds belong to what passes; a figure that is never negative has the upper one alone.</param>
/// <param name="Margin">How far the figure lies within the nearer bound; negative by what it lies beyond it.</param>
public sealed record TrialFigure(TrialCriterion Criterion, decimal Figure, Bounds Limits, decimal Margin)
{
    public bool Met => Margin >= 0;
}

/// <summary>
/// The criteria of ISO 3159 over the rates of 15 days, in decimal arithmetic. The formulas and the limits of category 1 are read from
/// public accounts of the edition of 1976, not from the standard; the limits of category 2 stand in one such account and agree with
/// memory. That bounds are inclusive, and that D is vertical less horizontal and not the other way round, is from memory.
/// </summary>
public static class TrialCriteria
{
    private const int DaysOfTheMean = 10;

    /// <summary>The seven figures of one category, in the order of the standard.</summary>
    /// <param name="rates">Seconds gained per day of days 1 to 15, in their order.</param>
    /// <exception cref="ArgumentException">Not exactly 15 rates.</exception>
    public static ImmutableArray<TrialFigure> Of(ImmutableArray<decimal> rates, TrialCategory category)
    {
        if (rates.Length != TrialSequence.Days)
        {
            throw new ArgumentException($"The criteria need the rates of {TrialSequence.Days} days.", nameof(rates));
        }

        var inPositions = rates[..DaysOfTheMean];
        var mean = inPositions.Average();
        decimal[] variations = [.. inPositions.Chunk(2).Select(pair => Math.Abs(pair[0] - pair[1]))];
        var vertical = Day(1, 2);
        return
        [
            Judged(TrialCriterion.MeanRate, mean),
            Judged(TrialCriterion.MeanVariation, variations.Average()),
            Judged(TrialCriterion.GreatestVariation, variations.Max()),
            Judged(TrialCriterion.VerticalLessHorizontal, vertical - Day(9, 10)),
            Judged(TrialCriterion.GreatestFromMean, inPositions.Max(rate => Math.Abs(rate - mean))),
            Judged(TrialCriterion.VariationWithTemperature, (Day(13) - Day(11)) / TrialSequence.SpanCelsius),
            Judged(TrialCriterion.Resumption, Day(15) - vertical),
        ];

        decimal Day(params ReadOnlySpan<int> days)
        {
            var sum = 0m;
            foreach (var day in days)
            {
                sum += rates[day - 1];
            }

            return sum / days.Length;
        }

        TrialFigure Judged(TrialCriterion criterion, decimal figure)
        {
            var limits = LimitsOf(criterion, category);
            var above = limits.Most!.Value - figure;
            return new TrialFigure(criterion, figure, limits, limits.Least is { } least ? Math.Min(above, figure - least) : above);
        }
    }

    /// <summary>Seconds per day; for the temperature, seconds per day and degree Celsius.</summary>
    public static Bounds LimitsOf(TrialCriterion criterion, TrialCategory category) => (criterion, category) switch
    {
        (TrialCriterion.MeanRate, TrialCategory.TwentyMillimetresAndOver) => new(-4, 6),
        (TrialCriterion.MeanRate, TrialCategory.UnderTwentyMillimetres) => new(-5, 8),
        (TrialCriterion.MeanVariation, TrialCategory.TwentyMillimetresAndOver) => new(null, 2),
        (TrialCriterion.MeanVariation, TrialCategory.UnderTwentyMillimetres) => new(null, 3.4m),
        (TrialCriterion.GreatestVariation, TrialCategory.TwentyMillimetresAndOver) => new(null, 5),
        (TrialCriterion.GreatestVariation, TrialCategory.UnderTwentyMillimetres) => new(null, 7),
        (TrialCriterion.VerticalLessHorizontal, TrialCategory.TwentyMillimetresAndOver) => new(-6, 8),
        (TrialCriterion.VerticalLessHorizontal, TrialCategory.UnderTwentyMillimetres) => new(-8, 10),
        (TrialCriterion.GreatestFromMean, TrialCategory.TwentyMillimetresAndOver) => new(null, 10),
        (TrialCriterion.GreatestFromMean, TrialCategory.UnderTwentyMillimetres) => new(null, 15),
        (TrialCriterion.VariationWithTemperature, TrialCategory.TwentyMillimetresAndOver) => new(-0.6m, 0.6m),
        (TrialCriterion.VariationWithTemperature, TrialCategory.UnderTwentyMillimetres) => new(-0.7m, 0.7m),
        (TrialCriterion.Resumption, TrialCategory.TwentyMillimetresAndOver) => new(-5, 5),
        (TrialCriterion.Resumption, TrialCategory.UnderTwentyMillimetres) => new(-6, 6),
        _ => throw new ArgumentOutOfRangeException(nameof(criterion)),
    };
}
