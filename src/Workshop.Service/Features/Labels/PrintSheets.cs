using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Labels;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Prints;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Labels;

/// <summary>Labels that there are, on sheets of the shop's paper: a torn one again, or the rest of a sheet that was begun.</summary>
public static class PrintSheets
{
    /// <summary>More would not fit into an address.</summary>
    public const int AtMost = 300;

    /// <param name="labels">Separated by commas, at most 300.</param>
    /// <param name="first">The first place of the sheet that is free, counted from 1, row by row; 1 where left out.</param>
    public static async Task<Results<Printed, ProblemHttpResult>> Handle(
        string? labels, int? first, Caller caller, LanguageAsked language, Reader reader, ShopRulesSource rules, CancellationToken cancel)
    {
        var asked = labels?.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries) ?? [];
        if (asked is not { Length: > 0 and <= AtMost })
        {
            return Problems.BadParameter("labels", $"One to {AtMost} labels are printed at once, separated by commas");
        }

        var known = await rules.Read(caller.Site, cancel);
        if (first < 1 || first > known.Labels.Sheet.Places())
        {
            return Problems.BadParameter("first", $"A sheet has the places 1 to {known.Labels.Sheet.Places()}");
        }

        var read = new List<Label>();
        foreach (var one in asked)
        {
            if (!Label.TryRead(one, out var label))
            {
                return Problems.BadParameter("labels", $"'{one}' is no label; look at it again");
            }

            read.Add(label.Value);
        }

        var prints = await reader.Read(connection => read.ConvertAll(label => (Label: label, Found: LabelStore.Find(connection, caller.Site, label, known))), cancel);
        return prints.Where(one => one.Found is null || LabelRow.IsWithdrawn(one.Found.Value.Names)).Select(one => one.Label.ToString()).ToArray() is { Length: > 0 } unknown
            ? Problems.BadParameter("labels", $"{string.Join(", ", unknown)} is on nothing in this house")
            : Sheets(prints.ConvertAll(one => LabelPrint.Of(one.Label, one.Found!.Value.Names, language.Best, PrintLabel.WarningOf(one.Label, one.Found.Value.Job, language.Best))), known.Labels, first ?? 1);
    }

    internal static string AddressOf(IEnumerable<Label> labels) => $"/v1/labels/sheets.pdf?labels={string.Join(',', labels)}";

    private static Printed Sheets(IReadOnlyList<LabelPrint> prints, LabelRules rules, int first) => new(LabelPrint.Sheets(prints, rules, first), Print.PdfType, "labels.pdf");
}
