using Workshop.Beats.Listening;
using Workshop.Core.Words;
using Workshop.Service.Prints.Plots;
using Figure = Workshop.Beats.Listening.Figure;

namespace Workshop.Service.Prints.Recordings;

/// <summary>Stretch under stretch: when, a mark with its interval about the rate of the whole, and the figures of the stretch in words.</summary>
internal sealed class BlockPanel
{
    // In letters.
    private const float RowOfOne = 1.75f;
    private const float RowOfThree = 4.6f;
    private const float LineOfRow = 1.3f;
    private const float Heads = 2.2f;
    private const float Feet = 2.4f;

    // Dots of a screen.
    private const float Gap = 12;
    private const float LeastMarks = 130;

    private readonly Reading reading;
    private readonly IReadOnlyList<EvidenceBlock> blocks;
    private readonly Language language;
    private readonly string[] when;
    private readonly string[][] said;
    private readonly string[] heads;

    public BlockPanel(Reading reading, IReadOnlyList<EvidenceBlock> blocks, Language language)
    {
        (this.reading, this.blocks, this.language) = (reading, blocks, language);
        when = [.. blocks.Select(block => Phrase.Of("{0}–{1} s", RecordingDrawing.Plain(block.FromSeconds, "0"), RecordingDrawing.Plain(block.ToSeconds, "0")).In(language))];
        said = [.. blocks.Select(block => new[] { Rate(block.RatePerDaySeconds), Amplitude(block.AmplitudeDegrees), BeatError(block.BeatErrorMilliseconds) })];
        heads = [Phrase.Of("rate").In(language), Phrase.Of("amplitude").In(language), Phrase.Of("beat error").In(language)];
    }

    public PlotPanel Panel() => new(
        width => (blocks.Count * RowLetters(width) + Heads + Feet) * Letter(width),
        Draw);

    // The sheet's own rule for letters by width; the frame tells the same once it is there.
    private static float Letter(float width) => width switch { < 480 => 11.5f, < 1_000 => 13, _ => 15 };

    private float RowLetters(float width) => Wide(width - (width < 480 ? 24 : 40), Letter(width)) ? RowOfOne : RowOfThree;

    private bool Wide(float across, float letter) => across - WhenDots(letter) - Columns(letter).Sum(one => one + Gap) - Gap >= LeastMarks;

    private float WhenDots(float letter) => when.Max(one => PlotFrame.WidthOf(one, letter)) + Gap;

    private float[] Columns(float letter) => [.. Enumerable.Range(0, 3).Select(column => MathF.Max(PlotFrame.WidthOf(heads[column], letter), said.Max(row => PlotFrame.WidthOf(row[column], letter))))];

    private void Draw(PlotFrame frame)
    {
        frame.Leave(left: 0.1f, right: 0.1f, bottom: 0.1f, top: 0.1f);
        var letter = frame.Letter;
        var wide = Wide(frame.Across, letter);
        var columns = Columns(letter);
        var words = wide ? columns.Sum(one => one + Gap) : columns.Max() + Gap;
        var (begin, end) = (WhenDots(letter), frame.Across - words - Gap);
        var reach = Reach();
        var perDot = 2 * reach / (end - begin);
        var left = -reach - begin * perDot;
        var row = wide ? RowOfOne : RowOfThree;
        var bottom = -blocks.Count * row - Feet;
        frame.Range(left, left + frame.Across * perDot, bottom, Heads);
        frame.NothingAcross();
        frame.NothingUp();
        Scale(frame, reach, -blocks.Count * row);
        double Dots(float dots) => left + dots * perDot;
        frame.Text(Dots(0), Heads - 0.9, Phrase.Of("time").In(language), Beside.Right, PlotFrame.Grey);
        frame.Text(0, Heads - 0.9, Phrase.Of("s/d against the whole").In(language), Beside.Centre, PlotFrame.Grey);
        for (var k = 0; k < blocks.Count; k++)
        {
            var middle = -(k + 0.5) * row;
            frame.Line(Dots(0), -(k + 1) * row, Dots(frame.Across), -(k + 1) * row, PlotFrame.Faint, 0.6f);
            frame.Text(Dots(0), middle, when[k], Beside.Right);
            MarkOf(frame, blocks[k].AgainstWholePerDaySeconds, middle, reach);
            var at = end + Gap;
            for (var column = 0; column < 3; column++)
            {
                if (wide && k == 0)
                {
                    frame.Text(Dots(at), Heads - 0.9, heads[column], Beside.Right, PlotFrame.Grey);
                }

                frame.Text(Dots(at), wide ? middle : middle + (1 - column) * LineOfRow, said[k][column], Beside.Right, Told(k, column) ? PlotFrame.Ink : PlotFrame.Grey);
                at += wide ? columns[column] + Gap : 0;
            }
        }
    }

    private bool Told(int block, int column) => (column switch
    {
        0 => blocks[block].RatePerDaySeconds,
        1 => blocks[block].AmplitudeDegrees,
        _ => blocks[block].BeatErrorMilliseconds,
    }).Value is not null;

    // The whole in the middle with its own interval; a round step to each side.
    private void Scale(PlotFrame frame, double reach, double bottom)
    {
        var half = Math.Min(reach, reading.RatePerDaySeconds.Parts!.Whole);
        frame.Area((-half, 0), (half, 0), (half, bottom), (-half, bottom));
        var step = new[] { 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200 }.FirstOrDefault(one => one > 0.35 * reach, 500);
        foreach (var at in new[] { -step, 0, step }.Where(at => Math.Abs(at) < reach))
        {
            frame.Line(at, 0, at, bottom, at == 0 ? PlotFrame.Ink : PlotFrame.Faint, at == 0 ? 1.2f : 0.8f);
            if (at != 0)
            {
                frame.Text(at, bottom - 0.7, new Core.Words.Figure((decimal)at, "+0.##;−0.##").In(language), Beside.Centre, PlotFrame.Grey);
            }
        }

        frame.Text(0, bottom - (reach > step ? 1.75 : 0.7), Phrase.Of("whole {0} s/d", RecordingDrawing.Signed(reading.RatePerDaySeconds.Value)).In(language), Beside.Centre);
    }

    private static void MarkOf(PlotFrame frame, Figure figure, double middle, double reach)
    {
        if (figure is not { Value: { } value, Low: { } low, High: { } high })
        {
            return;
        }

        // What lies beyond the scale is drawn to its end without a foot; its figure stands beside it.
        var (from, to) = (Math.Max(low, -reach), Math.Min(high, reach));
        frame.Line(from, middle, to, middle, PlotFrame.Ink, 1.1f);
        foreach (var end in new[] { low, high }.Where(end => Math.Abs(end) <= reach))
        {
            frame.Line(end, middle - frame.DotsUp(3), end, middle + frame.DotsUp(3), PlotFrame.Ink, 1.1f);
        }

        if (Math.Abs(value) <= reach)
        {
            frame.Point(value, middle, figure.Confidence == Confidence.Good ? Mark.Full : Mark.Open, figure.Confidence == Confidence.Good ? PlotFrame.Ink : PlotFrame.Accent, 7);
        }
    }

    // All of them, but one wild stretch does not press the others together.
    private double Reach()
    {
        var all = blocks.Select(block => block.AgainstWholePerDaySeconds).Where(one => one.Value is not null).Select(one => Math.Max(Math.Abs(one.Low!.Value), Math.Abs(one.High!.Value))).Order().ToArray();
        return all.Length == 0 ? 1 : 1.05 * Math.Max(0.2, Math.Min(all[^1], 3 * all[all.Length / 2]));
    }

    private string Rate(Figure figure) => (figure.Value is null
        ? Phrase.Of("no rate")
        : Phrase.Of("{0} ± {1} s/d, {2}", new Core.Words.Figure((decimal)figure.Value, "+0.0;−0.0;0.0"), RecordingDrawing.Plain(figure.Parts!.Whole, "0.0"), RecordingDrawing.Sure(figure))).In(language);

    private string Amplitude(Figure figure) => (figure.Value is null
        ? Phrase.Of("no amplitude")
        : Phrase.Of("{0}° ± {1}°, {2}", RecordingDrawing.Plain(figure.Value, "0"), RecordingDrawing.Plain(figure.Parts!.Whole, "0"), RecordingDrawing.Sure(figure))).In(language);

    private string BeatError(Figure figure) => (figure.Value is null
        ? Phrase.Of("no beat error")
        : Phrase.Of("{0} ± {1} ms, {2}", RecordingDrawing.Plain(figure.Value, "0.00"), RecordingDrawing.Plain(figure.Parts!.Whole, "0.00"), RecordingDrawing.Sure(figure))).In(language);
}
