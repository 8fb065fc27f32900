using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Hazards;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Prints;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Labels;

/// <summary>One label to be printed, in millimetres: as the shop's rules say, or in another size for another roll.</summary>
public static class PrintLabel
{
    /// <param name="form"><c>svg</c>, <c>png</c> or <c>pdf</c>.</param>
    /// <param name="width">Millimetres; as the shop's rules say where left out.</param>
    /// <param name="height">Millimetres; as the shop's rules say where left out.</param>
    public static async Task<Results<Printed, ProblemHttpResult>> Handle(
        string label, string form, string? width, string? height, Caller caller, LanguageAsked language, Reader reader, ShopRulesSource rules, CancellationToken cancel)
    {
        if (!Label.TryRead(label, out var read))
        {
            return ReadLabel.Unreadable();
        }

        var known = await rules.Read(caller.Site, cancel);
        if (SizeOf(known.Labels, width, height, out var refusal) is not { } size)
        {
            return refusal!;
        }

        if (await reader.Read(connection => LabelStore.Find(connection, caller.Site, read.Value, known), cancel) is not { } found || LabelRow.IsWithdrawn(found.Names))
        {
            return Problems.Of(ProblemCatalogue.LabelUnknown, $"{read} names nothing in this house.", ("label", read.ToString()));
        }

        var print = LabelPrint.Of(read.Value, found.Names, language.Best, WarningOf(read.Value, found.Job, language.Best));
        return form switch
        {
            "svg" => new Printed(print.Svg(size), Print.SvgType, $"{read}.svg"),
            "png" => new Printed(print.Png(size), Print.PngType, $"{read}.png"),
            "pdf" => new Printed(print.Pdf(size), Print.PdfType, $"{read}.pdf"),
            _ => Problems.Of(ProblemCatalogue.NoSuchThing, "A label is printed as svg, png or pdf."),
        };
    }

    /// <summary>What whoever takes it into the hand has to know first; null for nothing.</summary>
    internal static string? WarningOf(Label label, Job? job, Language language) =>
        job?.Labels.ReplacementOf(label) is not null ? Phrase.Of("REPLACED, DO NOT USE").In(language)
        : job?.Intake.Hazards.Contains(Hazard.RadiumSuspected) == true ? Phrase.Of("RADIUM SUSPECTED").In(language)
        : null;

    private static LabelRules? SizeOf(LabelRules rules, string? width, string? height, out ProblemHttpResult? refusal)
    {
        refusal = null;
        foreach (var (name, said, set) in new (string, string?, Func<LabelRules, decimal, LabelRules>)[]
        {
            ("width", width, (one, value) => one with { WidthMillimetres = value }),
            ("height", height, (one, value) => one with { HeightMillimetres = value }),
        })
        {
            if (said is null)
            {
                continue;
            }

            if (!decimal.TryParse(said, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value) || value is < 8 or > 150)
            {
                refusal = Problems.BadParameter(name, "This is no length from 8 to 150 millimetres");
                return null;
            }

            rules = set(rules, value);
        }

        // A sheet is not asked for here.
        var fault = (rules with { Sheet = new LabelSheet { Columns = 1, Rows = 1, LeftMillimetres = 0, TopMillimetres = 0, PaperWidthMillimetres = 500, PaperHeightMillimetres = 500 } }).Faults("").FirstOrDefault();
        if (fault is null)
        {
            return rules;
        }

        refusal = Problems.BadParameter(fault.Pointer.StartsWith("/height", StringComparison.Ordinal) ? "height" : "width", fault.Detail);
        return null;
    }
}
