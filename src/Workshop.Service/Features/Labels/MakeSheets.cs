using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Prints;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Labels;

/// <summary>What new labels are printed on.</summary>
public enum SheetForm
{
    Labels,

    /// <summary>A card each, to be filled in by hand while nothing else works; its label becomes the job's.</summary>
    IntakeCards,
}

public sealed record MakeSheetsBody
{
    public required LabelKind Kind { get; init; }

    /// <summary>How many blank ones; left out where <c>names</c> says what they are for.</summary>
    [Range(1, PrintSheets.AtMost)]
    public int? Count { get; init; }

    /// <summary>Things of the house that get one each, for example <c>trays/tray-1</c>.</summary>
    [Length(1, PrintSheets.AtMost)]
    public ImmutableArray<string>? Names { get; init; }

    public SheetForm As { get; init; } = SheetForm.Labels;

    /// <summary>The first place of the sheet that is free, counted from 1, row by row.</summary>
    [Range(1, 800)]
    public int First { get; init; } = 1;

    public IEnumerable<Fault> Faults(ShopRules rules)
    {
        if ((Count is null) == (Names is null))
        {
            yield return new Fault("/count", "Either a number of blank labels or the names of what they are for");
        }

        foreach (var (i, one) in (Names ?? []).Index())
        {
            foreach (var fault in NameLabel.Faults(Kind, one, rules))
            {
                yield return new Fault($"/names/{i}", fault.Detail);
            }
        }

        if (Kind == LabelKind.Expected)
        {
            yield return new Fault("/kind", "What is expected gets its label when it is announced");
        }

        if (As == SheetForm.IntakeCards && Kind != LabelKind.Job)
        {
            yield return new Fault("/kind", "An intake card bears the label of a job");
        }

        if (First > rules.Labels.Sheet.Places())
        {
            yield return new Fault("/first", $"A sheet has the places 1 to {rules.Labels.Sheet.Places()}");
        }
    }
}

/// <summary>The labels of sheets that were made.</summary>
public sealed record SheetsMade(ImmutableArray<Label> Labels, ImmutableArray<string> Names);

/// <summary>Gives out new labels and prints them. Blank ones are bound at their first use; no label is given out twice.</summary>
public static class MakeSheets
{
    public static async Task<Results<Printed, AnswerText, ProblemHttpResult>> Handle(
        JsonBody<MakeSheetsBody> body, Once once, Caller caller, LanguageAsked language, Writer writer, ShopRulesSource rules, CancellationToken cancel)
    {
        var wanted = body.Value;
        var made = await once.Do<Results<Made<SheetsMade>, ProblemHttpResult>>(writer, body.Bytes, turn => Draw(turn, wanted));

        // What is kept for repeats are the labels; they are drawn on paper anew.
        var answer = AnswerText.Of(made.Answer);
        if (answer.Status != StatusCodes.Status201Created)
        {
            return answer;
        }

        var known = (await rules.Read(caller.Site, cancel)).Labels;
        var sheets = JsonSerializer.Deserialize<SheetsMade>(answer.Body, WorkshopJson.Options)!;
        var prints = sheets.Labels.Zip(sheets.Names, (label, names) => LabelPrint.Of(label, names, language.Best)).ToList();
        var pdf = wanted.As == SheetForm.IntakeCards ? IntakeCard.Pdf(prints, known, language.Best) : LabelPrint.Sheets(prints, known, Math.Min(wanted.First, known.Sheet.Places()));
        return new Printed(pdf, Print.PdfType, wanted.As == SheetForm.IntakeCards ? "intake-cards.pdf" : "labels.pdf")
        {
            Status = answer.Status,
            Location = PrintSheets.AddressOf(sheets.Labels),
            Again = answer.Headers.ContainsKey(Once.ReplayedHeader),
        };
    }

    private static Results<Made<SheetsMade>, ProblemHttpResult> Draw(Turn turn, MakeSheetsBody wanted)
    {
        if (wanted.Faults(turn.Rules).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var names = wanted.Names ?? [.. Enumerable.Repeat("", wanted.Count!.Value)];
        var labels = names.Select(one => turn.DrawLabel(wanted.Kind, _ => one)).ToImmutableArray();
        return Answer.Made(PrintSheets.AddressOf(labels), 0, new SheetsMade(labels, names));
    }
}
