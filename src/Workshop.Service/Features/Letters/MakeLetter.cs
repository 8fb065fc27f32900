using NodaTime;
using Workshop.Core.Letters;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Letters;

namespace Workshop.Service.Features.Letters;

/// <summary>A letter as it is sent.</summary>
public sealed record MadeLetter(string Subject, string Text, string Html);

/// <summary>Something that stands in a letter.</summary>
public sealed record LetterParagraph(LetterReading Read, LetterOccasion Occasion);

/// <summary>Writes a letter: the paragraphs of all that is to be said to one person today, in the order of the table, in one frame.</summary>
public static class MakeLetter
{
    /// <param name="paragraphs">At least one.</param>
    /// <param name="today">The day of the letter.</param>
    public static MadeLetter Of(LetterHouse house, StoredCustomer reader, IReadOnlyCollection<LetterParagraph> paragraphs, LocalDate today, LetterPages pages)
    {
        var language = LanguageOf(reader);
        var inOrder = paragraphs.OrderBy(one => one.Occasion.Moment).ThenBy(one => one.Read.Job.Label.ToString(), StringComparer.Ordinal).ToArray();
        var watches = inOrder.GroupBy(one => one.Read.Job.Label).ToDictionary(watch => watch.Key, watch => pages.AddressOf([.. watch]));
        var several = watches.Count > 1;
        var made = inOrder.Select(one => Paragraph(house, one, language, today, several, watches[one.Read.Job.Label])).ToArray();

        // A paragraph that asks for something says where; of every other watch it is said once where it can be seen.
        var unsaid = watches.Where(watch => watch.Value is { } page && !made.Any(one => one.Text.Contains(page, StringComparison.Ordinal))).ToDictionary(watch => watch.Key, watch => watch.Value!);
        if (several)
        {
            foreach (var (watch, page) in unsaid)
            {
                var last = Array.FindLastIndex(inOrder, one => one.Read.Job.Label == watch);
                var link = new Dictionary<string, object>(StringComparer.Ordinal) { ["link"] = page };
                made[last] = made[last] with
                {
                    Text = $"{made[last].Text}\n\n{LetterTexts.Of(LetterTexts.Page, language, LetterPart.Text).AsText(link)}",
                    Html = $"{made[last].Html}\n{LetterTexts.Of(LetterTexts.Page, language, LetterPart.Html).AsHtml(link)}",
                };
            }
        }

        var frame = new Dictionary<string, object>(StringComparer.Ordinal)
        {
            ["references"] = string.Join(", ", inOrder.Select(one => one.Read.Job.Label.ToString()).Distinct(StringComparer.Ordinal)),
            ["shopName"] = house.Settings.ShopName ?? (language == Language.German ? "Ihre Werkstatt" : "Your workshop"),
        };
        foreach (var (name, value) in new[] { ("name", reader.Name), ("shopAddress", house.Settings.Address), ("shopTelephone", house.Settings.Telephone), ("shopEmail", house.Settings.Email) })
        {
            if (!string.IsNullOrWhiteSpace(value))
            {
                frame[name] = value;
            }
        }

        if (!several && unsaid.Values.SingleOrDefault() is { } only)
        {
            frame["link"] = only;
        }

        var subject = made.Length == 1 || !several ? made[0].Subject : Template(house, LetterTexts.Frame, language, LetterPart.Subject).AsLine(frame);
        frame["subject"] = subject;
        return new MadeLetter(
            subject,
            Template(house, LetterTexts.Frame, language, LetterPart.Text).AsText(new Dictionary<string, object>(frame) { ["body"] = string.Join("\n\n", made.Select(one => one.Text)) }),
            Template(house, LetterTexts.Frame, language, LetterPart.Html).AsHtml(new Dictionary<string, object>(frame) { ["body"] = string.Join("\n", made.Select(one => one.Html)) }));
    }

    /// <summary>The reader's own language where it is one of ours, else English.</summary>
    public static Language LanguageOf(StoredCustomer reader) =>
        reader.Language?.StartsWith("de", StringComparison.OrdinalIgnoreCase) == true ? Language.German : Language.English;

    private static MadeLetter Paragraph(LetterHouse house, LetterParagraph one, Language language, LocalDate today, bool several, string? page)
    {
        var moment = Word.Of(one.Occasion.Moment);
        var values = LetterValues.Of(one.Read, one.Occasion, language, today, page);
        var (text, html) = (Template(house, moment, language, LetterPart.Text).AsText(values), Template(house, moment, language, LetterPart.Html).AsHtml(values));

        // Of several watches each paragraph says first which one it is about.
        return new MadeLetter(
            Template(house, moment, language, LetterPart.Subject).AsLine(values),
            several ? $"{Heading.AsText(values)}\n\n{text}" : text,
            several ? $"{HeadingHtml.AsHtml(values)}\n{html}" : html);
    }

    private static readonly LetterTemplate Heading = LetterTemplate.Read("{{ watch }} ({{ reference }})");
    private static readonly LetterTemplate HeadingHtml = LetterTemplate.Read("<h2>{{ watch }} ({{ reference }})</h2>");

    private static LetterTemplate Template(LetterHouse house, string moment, Language language, LetterPart part) =>
        house.TextsOf(moment)?.Of(language, part) is { } own ? LetterTemplate.Read(own) : LetterTexts.Of(moment, language, part);
}
