using System.Collections.Immutable;
using Workshop.Core.Timekeeping;
using Workshop.Core.Trials;

namespace Workshop.Tests.References;

/// <summary>Worked trials by the definitions of ISO 3159; sources and how sure they are: SOURCES.md, "Trials".</summary>
public class ChronometerTrialTests
{
    private const TrialCategory Large = TrialCategory.TwentyMillimetresAndOver;
    private const TrialCategory Small = TrialCategory.UnderTwentyMillimetres;

    private static readonly ImmutableArray<decimal> WithinEverything = [3.1m, 2.6m, 4.4m, 3.8m, 1.2m, 1.9m, 5.0m, 4.1m, 4.6m, 4.9m, 6.5m, 4.7m, 2.3m, 3.4m, 3.6m];
    private static readonly ImmutableArray<decimal> AtTheLimits = [0, 0, 7.5m, 6.0m, -3.5m, -2.0m, 9.0m, 13.0m, 6.5m, 5.5m, 17.5m, 6.0m, -3.0m, 1.0m, 5.5m];
    private static readonly ImmutableArray<decimal> OneDayOff = [3, 3, 3, 3, 3, 3, 3, 3, 3, 8.1m, 3, 3, 3, 3, 3];

    [Fact]
    public void A_trial_within_every_limit_has_these_seven_figures()
    {
        Assert.Equal([3.56m, 0.60m, 0.9m, -1.90m, 2.36m, -0.14m, 0.75m], Figures(WithinEverything, Large));
        Assert.Empty(NotMet(WithinEverything, Large));
        Assert.Empty(NotMet(WithinEverything, Small));
    }

    [Fact]
    public void A_figure_on_its_limit_passes_and_two_beyond_theirs_fail_the_large_size_alone()
    {
        Assert.Equal([4.2m, 1.6m, 4.0m, -6.0m, 8.8m, -0.68333m, 5.5m], Figures(AtTheLimits, Large).Select(figure => Math.Round(figure, 5)));
        Assert.Equal([TrialCriterion.VariationWithTemperature, TrialCriterion.Resumption], NotMet(AtTheLimits, Large));
        Assert.Equal(0, TrialCriteria.Of(AtTheLimits, Large).Single(one => one.Criterion == TrialCriterion.VerticalLessHorizontal).Margin);
        Assert.Empty(NotMet(AtTheLimits, Small));
    }

    [Fact]
    public void One_day_off_fails_the_greatest_variation_alone()
    {
        Assert.Equal([3.51m, 1.02m, 5.1m, -2.55m, 4.59m, 0, 0], Figures(OneDayOff, Large));
        Assert.Equal([TrialCriterion.GreatestVariation], NotMet(OneDayOff, Large));
        Assert.Empty(NotMet(OneDayOff, Small));
    }

    [Fact]
    public void Days_exchanged_change_the_variation_and_not_the_mean()
    {
        var exchanged = Figures(AtTheLimits.SetItem(1, AtTheLimits[2]).SetItem(2, AtTheLimits[1]), Large);

        Assert.Equal(4.2m, exchanged[0]);
        Assert.NotEqual(1.6m, exchanged[1]);
    }

    [Fact]
    public void Fourteen_rates_are_no_trial() => Assert.Throws<ArgumentException>(() => TrialCriteria.Of(WithinEverything[..14], Large));

    // The limits, once more and by hand: M, V, Vmax, D, P, C, R.
    [Theory]
    [InlineData(Large, "-4..6 ..2 ..5 -6..8 ..10 -0.6..0.6 -5..5")]
    [InlineData(Small, "-5..8 ..3.4 ..7 -8..10 ..15 -0.7..0.7 -6..6")]
    public void Each_size_has_its_limits(TrialCategory category, string limits) => Assert.Equal(
        limits, string.Join(' ', Enum.GetValues<TrialCriterion>().Select(one => TrialCriteria.LimitsOf(one, category)).Select(one => FormattableString.Invariant($"{one.Least}..{one.Most}"))));

    // 0.7 as a binary fraction lies under 0.7: the limit itself has to pass.
    [Theory]
    [InlineData(21.0, true)]
    [InlineData(21.1, false)]
    public void Seven_tenths_for_each_degree_still_pass_the_small_size(double hotLessCold, bool met)
    {
        var rates = Enumerable.Repeat(0m, 15).ToImmutableArray().SetItem(12, (decimal)hotLessCold);

        Assert.Equal(met, NotMet(rates, Small).Length == 0);
    }

    [Fact]
    public void The_sequence_has_three_vertical_and_two_horizontal_positions_and_never_twelve_up()
    {
        Assert.Equal(
            "1 crown-left 23, 3 crown-up 23, 5 crown-down 23, 7 dial-down 23, 9 dial-up 23, 11 dial-up 8, 12 dial-up 23, 13 dial-up 38, 14 crown-left 23",
            string.Join(", ", TrialSequence.Steps.Where((step, i) => i == 0 || TrialSequence.Steps[i - 1] with { Day = step.Day } != step)
                .Select(step => $"{step.Day} {Workshop.Core.Words.Word.Of(step.Position)} {step.TemperatureCelsius}")));
        Assert.Equal(Enumerable.Range(1, 15), TrialSequence.Steps.Select(step => step.Day));
        Assert.DoesNotContain(TrialSequence.Steps, step => step.Position == Position.CrownRight);
    }

    private static decimal[] Figures(ImmutableArray<decimal> rates, TrialCategory category) => [.. TrialCriteria.Of(rates, category).Select(one => one.Figure)];

    private static TrialCriterion[] NotMet(ImmutableArray<decimal> rates, TrialCategory category) =>
        [.. TrialCriteria.Of(rates, category).Where(one => !one.Met).Select(one => one.Criterion)];
}
