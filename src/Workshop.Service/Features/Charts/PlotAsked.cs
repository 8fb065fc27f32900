using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Prints;
using Workshop.Service.Prints.Plots;

namespace Workshop.Service.Features.Charts;

/// <summary>As what and how wide somebody wants a plot.</summary>
/// <param name="Width">Dots of a screen.</param>
/// <param name="Scale">Dots of a PNG for each of them.</param>
internal sealed record PlotAsked(string Form, int Width, decimal Scale)
{
    /// <summary>Reads the address; what is wrong in it is refused before anything is looked for.</summary>
    public static PlotAsked? Read(string form, string? width, string? scale, out ProblemHttpResult? refusal)
    {
        refusal = null;
        if (form is not ("svg" or "png"))
        {
            refusal = Problems.Of(ProblemCatalogue.NoSuchThing, "A plot is drawn as svg or png.");
            return null;
        }

        var (wide, times) = (PlotSheet.UsualWidth, 1m);
        if (width is not null && (!int.TryParse(width, NumberStyles.None, CultureInfo.InvariantCulture, out wide) || wide is < PlotSheet.NarrowestWidth or > PlotSheet.WidestWidth))
        {
            refusal = Problems.BadParameter("width", $"This is no whole number of dots from {PlotSheet.NarrowestWidth} to {PlotSheet.WidestWidth}");
            return null;
        }

        if (scale is not null && (!decimal.TryParse(scale, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out times) || times is < 1 or > PlotSheet.LargestScale))
        {
            refusal = Problems.BadParameter("scale", $"This is no number from 1 to {PlotSheet.LargestScale}");
            return null;
        }

        return new PlotAsked(form, wide, times);
    }

    /// <summary>A number in the address that counts from 1.</summary>
    public static bool TryCount(string name, string? said, int atMost, out int? number, out ProblemHttpResult? refusal)
    {
        (number, refusal) = (null, null);
        if (said is null)
        {
            return true;
        }

        if (!int.TryParse(said, NumberStyles.None, CultureInfo.InvariantCulture, out var read) || read < 1 || read > atMost)
        {
            refusal = Problems.BadParameter(name, $"This is no whole number from 1 to {atMost}");
            return false;
        }

        number = read;
        return true;
    }

    /// <param name="name">Of the file, without its ending.</param>
    public Printed Draw(PlotSheet sheet, string name) => Form == "svg"
        ? new Printed(sheet.Svg(Width), Print.SvgType, $"{name}.svg")
        : new Printed(sheet.Png(Width, Scale), Print.PngType, $"{name}.png");
}
