using Workshop.Beats.Listening;
using Workshop.Core.Words;
using Workshop.Service.Prints.Plots;

namespace Workshop.Service.Prints.Recordings;

/// <summary>The mean beat of one kind in decibels, with the moments that were picked in it.</summary>
internal static class NoisePanel
{
    private const double Lowest = -6;

    public static PlotPanel Of(FoldedNoise noise, Phrase kind, Language language) => new(
        width => width < 480 ? 190 : MathF.Min(width * 0.3f, 330),
        frame => Draw(frame, noise, kind, language));

    private static void Draw(PlotFrame frame, FoldedNoise noise, Phrase kind, Language language)
    {
        frame.Leave(left: 2.6f, right: 0.4f, bottom: 3.2f, top: 0.4f);
        var across = noise.Decibels.Select((_, k) => noise.FromMilliseconds + k * noise.StepMilliseconds).ToArray();
        var highest = Math.Max(6, noise.Decibels.Max());
        var top = Lowest + (highest - Lowest) * 1.12 * frame.Upwards / Math.Max(40, frame.Upwards - 3.4 * frame.Letter);
        frame.Range(across[0], across[^1], Lowest, top);
        foreach (var moment in new[] { noise.Unlocking, noise.Drop }.OfType<PickedMoment>())
        {
            var (from, to) = (moment.Milliseconds - moment.UncertaintyMilliseconds, moment.Milliseconds + moment.UncertaintyMilliseconds);
            frame.Area((from, Lowest), (to, Lowest), (to, highest + frame.DotsUp(4)), (from, highest + frame.DotsUp(4)));
        }

        frame.FiguresUp(figure => new Core.Words.Figure(figure, "0;−0").In(language), "", highest: highest);
        frame.FiguresAcross(figure => new Core.Words.Figure(figure, "+0;−0;0").In(language), Phrase.Of("ms from the drop").In(language), whole: true);
        frame.Curve(across, [.. noise.Decibels.Select(one => Math.Max(Lowest, one))]);
        var line = frame.DotsUp(frame.Letter * 1.3f);
        Picked(frame, noise.Drop, highest, Phrase.Of("noise 3").In(language), Beside.Right);
        if (noise.Unlocking is { } unlocking)
        {
            // To its right where there is room before the drop: to its left are but four milliseconds of sheet.
            var name = Phrase.Of("noise 1").In(language);
            var room = -unlocking.Milliseconds / frame.DotsAcross(1);
            Picked(frame, unlocking, highest, name, PlotFrame.WidthOf(name, frame.Letter) + 10 < room ? Beside.Right : Beside.Left);
        }

        var said = noise.Unlocking is { } first
            ? Phrase.Of("{0}, dB: noise 1 to 3 in {1} ms", kind, RecordingDrawing.Plain(-first.Milliseconds, "0.00"))
            : Phrase.Of("{0}, dB: noise 1 does not stand out", kind);
        frame.Text(across[0], top - 0.6 * line, said.In(language), Beside.Right, bold: true);
    }

    private static void Picked(PlotFrame frame, PickedMoment moment, double highest, string name, Beside beside)
    {
        var up = highest + frame.DotsUp(4);
        frame.Line(moment.Milliseconds, Lowest, moment.Milliseconds, up, PlotFrame.Accent, 1.3f, Stroke.Dashed);
        frame.Text(moment.Milliseconds, up + frame.DotsUp(frame.Letter * 0.5f), name, beside, PlotFrame.Accent);
    }
}
