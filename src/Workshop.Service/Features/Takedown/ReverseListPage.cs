using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using Workshop.Core.Takedown;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;

namespace Workshop.Service.Features.Takedown;

/// <summary>The reverse list on A4, black on white: large numbers, read from the bench's edge, with a box to tick beside each step.</summary>
internal static class ReverseListPage
{
    private const string Style = """
        @page { size: A4; margin: 14mm 12mm; }
        * { box-sizing: border-box; }
        body { margin: 0 auto; max-width: 186mm; color: #000; background: #fff; font: 11pt/1.35 sans-serif; }
        header { display: flex; justify-content: space-between; align-items: baseline; border-bottom: 1mm solid #000; padding-bottom: 2mm; }
        h1 { font-size: 20pt; margin: 0; letter-spacing: .08em; }
        h2 { font-size: 13pt; margin: 6mm 0 1mm; border-bottom: .3mm solid #000; break-after: avoid; }
        .step { display: grid; grid-template-columns: 22mm 1fr 8mm; gap: 3mm; padding: 2mm 0; border-bottom: .1mm solid #000; break-inside: avoid; }
        .number { font-size: 24pt; font-weight: bold; text-align: right; line-height: 1; }
        .box { width: 7mm; height: 7mm; border: .4mm solid #000; }
        .part { font-weight: bold; font-size: 12pt; }
        .caution { display: inline-block; border: .5mm solid #000; padding: .5mm 2mm; margin: 1mm 0; font-weight: bold; }
        .small { font-size: 9pt; }
        p { margin: .5mm 0; }
        table { border-collapse: collapse; margin: 1mm 0; font-size: 9pt; }
        td, th { border: .1mm solid #000; padding: .3mm 2mm; text-align: left; }
        figure { display: inline-block; margin: 1mm 2mm 0 0; }
        img { max-width: 60mm; max-height: 45mm; display: block; border: .1mm solid #000; }
        .awaited { width: 45mm; height: 20mm; border: .3mm dashed #000; display: flex; align-items: center; justify-content: center; font-size: 9pt; }
        """;

    public static string Of(ReverseListView list, IReadOnlyDictionary<string, byte[]> pictures, Language language)
    {
        var page = new StringBuilder(32_000);
        page.Append(CultureInfo.InvariantCulture, $"<!doctype html><html lang=\"{LanguageAsked.Tag(language)}\"><head><meta charset=\"utf-8\"><title>{Text(list.Job.ToString())}</title><style>{Style}</style></head><body>");
        page.Append(CultureInfo.InvariantCulture, $"<header><h1>{Text(list.Job.ToString())}</h1><div>{Said(Phrase.Of("Takedown, read backwards"), language)}</div></header>");
        var facts = new[]
        {
            (Phrase.Of("Calibre"), list.Calibre),
            (Phrase.Of("Holder"), list.Holder),
            (Phrase.Of("Tray"), list.Tray),
            (Phrase.Of("Taken down by"), list.TakenDownBy.IsEmpty ? null : string.Join(", ", list.TakenDownBy)),
        };
        page.Append("<p>").Append(string.Join(" &nbsp; ", facts.Where(one => one.Item2 is not null).Select(one => $"{Said(one.Item1, language)}: <b>{Text(one.Item2!)}</b>"))).Append("</p>");
        if (list.Sections.IsEmpty)
        {
            page.Append("<p>").Append(Said(Phrase.Of("No step of this takedown was told."), language)).Append("</p>");
        }

        foreach (var one in list.Replaced)
        {
            var line = one.Fitted ? Phrase.Of("Replaced: {0} ({1})", one.Part, new Term("group", one.Group)) : Phrase.Of("To be replaced: {0} ({1})", one.Part, new Term("group", one.Group));
            page.Append("<p><b>").Append(Said(line, language)).Append("</b></p>");
        }

        foreach (var section in list.Sections)
        {
            page.Append("<section><h2>").Append(Text(Capital(section.Name))).Append("</h2>");
            Findings(page, section.Findings, language);
            Oil(page, section.Oil, language);
            foreach (var step in section.Steps)
            {
                Step(page, step, pictures, language);
            }

            page.Append("</section>");
        }

        if (!list.FindingsElsewhere.IsEmpty || !list.OilElsewhere.IsEmpty)
        {
            page.Append("<section><h2>").Append(Said(Phrase.Of("Elsewhere"), language)).Append("</h2>");
            Findings(page, list.FindingsElsewhere, language);
            Oil(page, list.OilElsewhere, language);
            page.Append("</section>");
        }

        return page.Append("</body></html>").ToString();
    }

    private static void Step(StringBuilder page, ReturnStepView step, IReadOnlyDictionary<string, byte[]> pictures, Language language)
    {
        page.Append(CultureInfo.InvariantCulture, $"<div class=\"step\"><div class=\"number\">{step.Step:0.####}</div><div>");
        if (step.Part is { } part)
        {
            page.Append("<p class=\"part\">").Append(Text(Capital(WordLists.Of("part", part, language)))).Append("</p>");
        }

        Line(page, step.Text, "p");
        if (step.Caution is { } caution)
        {
            page.Append("<p class=\"caution\">").Append(Text(caution)).Append("</p>");
        }

        Line(page, step.Order, "p");
        if (step.KeptWith is { } kept)
        {
            page.Append("<p>").Append(Said(Phrase.Of("{0} lies with {1}", kept.Member, new Term("group", kept.Group)), language)).Append("</p>");
        }

        Screws(page, step.Screws, language);
        Oil(page, step.Oil, language);
        foreach (var photo in step.Photos)
        {
            page.Append("<figure>");
            if (pictures.TryGetValue(photo.Sha256, out var bytes))
            {
                page.Append("<img alt=\"\" src=\"data:image/jpeg;base64,").Append(Convert.ToBase64String(bytes)).Append("\">");
            }
            else
            {
                page.Append("<div class=\"awaited\">").Append(Said(Phrase.Of("Photo awaited"), language)).Append("</div>");
            }

            page.Append("</figure>");
        }

        page.Append("</div><div class=\"box\"></div></div>");
    }

    private static void Screws(StringBuilder page, ImmutableArray<ScrewNote> screws, Language language)
    {
        if (screws.IsEmpty)
        {
            return;
        }

        page.Append("<table><tr>");
        foreach (var head in new[] { Phrase.Of("Screws"), Phrase.Of("Number"), Phrase.Of("Head"), Phrase.Of("Finish"), Phrase.Of("Length, mm") })
        {
            page.Append("<th>").Append(Said(head, language)).Append("</th>");
        }

        page.Append("</tr>");
        foreach (var screw in screws)
        {
            page.Append("<tr>");
            foreach (var cell in new[]
            {
                screw.Place,
                screw.Count.ToString(CultureInfo.InvariantCulture),
                screw.Head is { } head ? WordLists.Of(head, language) : "",
                screw.Finish is { } finish ? WordLists.Of(finish, language) : "",
                screw.LengthMillimetres is { } length ? new Figure(length, "0.##").In(language) : "",
            })
            {
                page.Append("<td>").Append(Text(cell)).Append("</td>");
            }

            page.Append("</tr>");
        }

        page.Append("</table>");
    }

    private static void Oil(StringBuilder page, ImmutableArray<OilLine> oil, Language language)
    {
        foreach (var line in oil)
        {
            page.Append("<p class=\"small\">").Append(Said(Phrase.Of("Oil"), language)).Append(": ").Append(Text($"{line.Place}: {line.Lubricant}{(line.Amount is { } amount ? $", {amount}" : "")}")).Append("</p>");
        }
    }

    private static void Findings(StringBuilder page, ImmutableArray<FindingView> findings, Language language)
    {
        foreach (var one in findings)
        {
            page.Append("<p class=\"small\"><b>").Append(Said(Phrase.Of("Open"), language)).Append(" (").Append(Text(WordLists.Of(one.Severity, language))).Append(")</b>: ")
                .Append(Text(one.Part is { } part ? $"{WordLists.Of("part", part, language)}: {one.Condition}" : one.Condition)).Append("</p>");
        }
    }

    private static void Line(StringBuilder page, string? text, string element)
    {
        if (text is not null)
        {
            page.Append('<').Append(element).Append('>').Append(Text(text)).Append("</").Append(element).Append('>');
        }
    }

    private static string Said(Phrase phrase, Language language) => Text(phrase.In(language));

    private static string Text(string text) => HtmlEncoder.Default.Encode(text);

    private static string Capital(string name) => name.Length == 0 ? name : char.ToUpperInvariant(name[0]) + name[1..];
}
