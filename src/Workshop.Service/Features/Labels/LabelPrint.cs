using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Prints;

namespace Workshop.Service.Features.Labels;

/// <summary>
/// What stands on a label: the square code, the eight characters in two halves to be read aloud, and what it is stuck on. No name of a
/// customer, no maker, no value: a label is read by whoever passes.
/// </summary>
/// <param name="On">The second line, for example <c>tray 12</c>; empty for none.</param>
/// <param name="Warning">A third line in capitals, for example that luminous paint is suspected; null for none.</param>
public sealed record LabelPrint(Label Label, string On, string? Warning = null)
{
    private const float LettersOfHeight = 0.34f;
    private const float SmallLettersOfHeight = 0.21f;
    private const float BetweenCodeAndLetters = 1f;

    /// <summary>The eight characters as they are read aloud, in two halves.</summary>
    public string Halves => $"{Label.ToString()[..(Label.Length / 2)]} {Label.ToString()[(Label.Length / 2)..]}";

    /// <summary>For whoever hears the picture instead of seeing it.</summary>
    public string Aloud => string.Join(", ", new[] { Halves, On, Warning }.Where(line => !string.IsNullOrEmpty(line)));

    /// <param name="label">What it is stuck on is said after it: a job and a piece by their word, a thing of the house by its id.</param>
    public static LabelPrint Of(Label label, string names, Language language, string? warning = null)
    {
        var piece = Storage.LabelRow.PieceOf(names);
        var kind = WordLists.Of(label.Kind, language);
        var on = piece is not null ? WordLists.Of("piece", piece, language)
            : Storage.LabelRow.JobOf(names) is not null || names.Length == 0 ? kind
            : $"{kind} {names[(names.IndexOf('/') + 1)..]}";
        return new LabelPrint(label, on, warning);
    }

    /// <summary>Draws it, in millimetres.</summary>
    public void Draw(Drawing drawing, LabelRules rules, float left = 0, float top = 0)
    {
        var (width, height, margin) = ((float)rules.WidthMillimetres, (float)rules.HeightMillimetres, (float)rules.MarginMillimetres);
        var side = (float)rules.CodeMillimetres();
        SquareCode.Draw(drawing, Label.ToString(), left + margin, top + margin, side);
        var from = left + margin + side + BetweenCodeAndLetters;
        var room = left + width - margin - from;
        var large = Print.Fit(Halves, room, height * LettersOfHeight, bold: true);
        var small = height * SmallLettersOfHeight;
        var line = top + (height * (Warning is null ? 0.47f : 0.38f));
        drawing.Text(Halves, from, line, large, bold: true);
        if (On.Length > 0)
        {
            drawing.Text(On, from, line + (small * 1.25f), Print.Fit(On, room, small));
        }

        if (Warning is not null)
        {
            drawing.Text(Warning, from, line + (small * 2.5f), Print.Fit(Warning, room, small, bold: true), bold: true);
        }
    }

    public byte[] Svg(LabelRules rules) => Print.Svg((float)rules.WidthMillimetres, (float)rules.HeightMillimetres, Aloud, drawing => Draw(drawing, rules));

    public byte[] Png(LabelRules rules) => Print.Png((float)rules.WidthMillimetres, (float)rules.HeightMillimetres, rules.DotsPerMillimetre, drawing => Draw(drawing, rules));

    public byte[] Pdf(LabelRules rules) => Print.Pdf((float)rules.WidthMillimetres, (float)rules.HeightMillimetres, Halves, [drawing => Draw(drawing, rules)]);

    /// <summary>Labels on sheets of the shop's paper.</summary>
    /// <param name="first">The first place that is still to be printed on, counted from 1: a sheet that was begun is used up.</param>
    public static byte[] Sheets(IReadOnlyList<LabelPrint> labels, LabelRules rules, int first = 1)
    {
        var sheet = rules.Sheet;
        var places = labels.Index().Select(one => (one.Item, Place: one.Index + first - 1)).ToLookup(one => one.Place / sheet.Places());
        return Print.Pdf(
            (float)sheet.PaperWidthMillimetres,
            (float)sheet.PaperHeightMillimetres,
            labels is [var only] ? only.Halves : $"{labels[0].Halves} – {labels[^1].Halves}",
            places.Select(page => (Action<Drawing>)(drawing =>
            {
                foreach (var (label, place) in page)
                {
                    var (left, top) = sheet.At(place % sheet.Places(), rules);
                    label.Draw(drawing, rules, (float)left, (float)top);
                }
            })));
    }
}
