using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Prints;

namespace Workshop.Service.Features.Labels;

/// <summary>
/// A card to take a watch in by hand while the power is off: what the desk asks, lines to write on, and the same blank label four times,
/// once to stay and three to be cut off for the watch, its bag and what came with it. Typed in later with its label, it becomes the job.
/// </summary>
internal static class IntakeCard
{
    // A5 (ISO 216).
    private const float Width = 148;
    private const float Height = 210;

    private const float Edge = 10;
    private const float LineEvery = 9.5f;
    private const float Letters = 3.2f;
    private const float Writing = 52;

    private static readonly Phrase[] Asked =
    [
        Phrase.Of("Day and hour"),
        Phrase.Of("Name"),
        Phrase.Of("Telephone or e-mail"),
        Phrase.Of("Maker and model"),
        Phrase.Of("What is wrong, in the customer's words"),
        Phrase.Of("Number on the case"),
        Phrase.Of("Running or stopped"),
        Phrase.Of("Scratches and damage"),
        Phrase.Of("Handed in with it, counted"),
        Phrase.Of("Declared value"),
        Phrase.Of("Polish: yes, no, ask again"),
        Phrase.Of("Old parts back: yes, no"),
        Phrase.Of("Needed by"),
        Phrase.Of("Taken in by"),
        Phrase.Of("Signature of the customer"),
    ];

    public static byte[] Pdf(IReadOnlyList<LabelPrint> labels, LabelRules rules, Language language) =>
        Print.Pdf(Width, Height, Phrase.Of("Taken in by hand").In(language), labels.Select(label => (Action<Drawing>)(drawing => Draw(drawing, label, rules, language))));

    private static void Draw(Drawing drawing, LabelPrint label, LabelRules rules, Language language)
    {
        // A label of the shop's roll may be too large for four on a card.
        var fits = rules with { WidthMillimetres = Math.Min(rules.WidthMillimetres, 40m), HeightMillimetres = Math.Min(rules.HeightMillimetres, 14m), MarginMillimetres = Math.Min(rules.MarginMillimetres, 1m) };
        drawing.Text(Phrase.Of("Taken in by hand").In(language), Edge, Edge + 6, 6.5f, bold: true);
        label.Draw(drawing, fits, Width - Edge - (float)fits.WidthMillimetres, Edge - 2);

        var line = Edge + 22;
        foreach (var asked in Asked)
        {
            var text = asked.In(language);
            drawing.Text(text, Edge, line, Print.Fit(text, Writing - 2, Letters));
            drawing.Line(Edge + Writing, line + 0.8f, Width - Edge, line + 0.8f);
            line += LineEvery;
        }

        foreach (var told in new[]
        {
            Phrase.Of("Water inside, or a cell that leaks: to a watchmaker at once, whatever the hour."),
            Phrase.Of("When the service answers again: take the watch in with the label of this card."),
        })
        {
            var text = told.In(language);
            drawing.Text(text, Edge, line, Print.Fit(text, Width - (2 * Edge), Letters, bold: true), bold: true);
            line += 5;
        }

        var top = Height - Edge - (float)fits.HeightMillimetres;
        drawing.Line(Edge, top - 3, Width - Edge, top - 3, thick: 0.1f);
        var room = (Width - (2 * Edge)) / 3;
        foreach (var (i, place) in new[] { Phrase.Of("for the watch"), Phrase.Of("for the bag"), Phrase.Of("for what came with it") }.Index())
        {
            label.Draw(drawing, fits, Edge + (i * room), top);
            drawing.Text(place.In(language), Edge + (i * room) + 1, top - 0.8f, 2.2f);
        }
    }
}
