using Workshop.Core.Words;

namespace Workshop.Service.Features.Charts;

/// <summary>Figures on plots: a true minus sign, and a comma in German.</summary>
internal static class PlotWords
{
    /// <summary>With its sign, to as many places as it has, two at most.</summary>
    public static string Signed(decimal figure, Language language) => new Figure(figure, "+0.##;−0.##;0").In(language);

    /// <summary>With its sign, to one decimal.</summary>
    public static Figure Tenths(decimal figure) => new(figure, "+0.0;−0.0;0.0");

    public static string Plain(decimal figure, Language language) => new Figure(figure, "0.##;−0.##").In(language);
}
