using System.Collections.Immutable;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Prints.Plots;

namespace Workshop.Service.Features.Charts;

/// <summary>What the watch was ahead of the reference.</summary>
/// <param name="Hours">Since the check began.</param>
/// <param name="PlusMinusSeconds">Expanded uncertainty (k = 2) of the reading.</param>
internal sealed record OffsetPoint(decimal Hours, decimal OffsetSeconds, decimal PlusMinusSeconds);

/// <summary>The line through the offsets.</summary>
/// <param name="AtStartSeconds">The offset at its beginning.</param>
/// <param name="RatePerDaySeconds">Its slope.</param>
internal sealed record OffsetLine(decimal AtStartSeconds, decimal RatePerDaySeconds, decimal PlusMinusSeconds);

/// <summary>
/// A worn check: its offsets with their bars, the line through them, and what the window of the check allows as a wedge of tinted paper
/// that begins where the check began.
/// </summary>
/// <param name="Line">null while nothing was read but the start.</param>
internal sealed record WearReadingsPlot(
    string Job, int Number, WearCheckKind Kind, ImmutableArray<OffsetPoint> Points, OffsetLine? Line, RateWindow Window, WearVerdict? Verdict, Phrase? Between, Language Language)
{
    public PlotSheet Sheet() => new(
        Phrase.Of("{0}: readings of check {1}", Job, Number).In(Language),
        [.. Caption().Select(sentence => sentence.In(Language))],
        [new PlotPanel(width => width < 480 ? 300 : MathF.Min(width * 0.52f, 540), Draw)]);

    private IEnumerable<Phrase> Caption()
    {
        if (Line is { } line)
        {
            var printed = WearArithmetic.PrintedPlusMinus(line.PlusMinusSeconds);

            // The rate to the last digit of its uncertainty, zeros among them.
            var digits = printed.Scale == 0 ? "0" : $"0.{new string('0', printed.Scale)}";
            yield return Verdict is { } verdict
                ? Phrase.Of("{0} ± {1} s/d: {2}.", new Figure(WearArithmetic.PrintedRate(line.RatePerDaySeconds, line.PlusMinusSeconds), $"+{digits};−{digits};{digits}"), new Figure(printed, digits), verdict)
                : Phrase.Of("{0} ± {1} s/d so far; the check runs.", new Figure(WearArithmetic.PrintedRate(line.RatePerDaySeconds, line.PlusMinusSeconds), $"+{digits};−{digits};{digits}"), new Figure(printed, digits));
        }
        else
        {
            yield return Phrase.Of("Nothing was read yet but the start.");
        }

        if (Between is { } between)
        {
            yield return between;
        }

        yield return Phrase.Of("Tint: what {0} to {1} s/d would make of the start. Bars: uncertainty of a reading, k = 2.", PlotWords.Tenths(Window.Lowest), PlotWords.Tenths(Window.Highest));
    }

    private void Draw(PlotFrame frame)
    {
        frame.Leave(left: 3.4f, right: 0.6f, bottom: 3.4f, top: 1.6f);
        var (start, last) = (Points[0], Math.Max((double)Points.Max(point => point.Hours), 24) * 1.04);
        var days = (decimal)last / 24;
        (double Low, double High) wedge = ((double)(start.OffsetSeconds + (Window.Lowest * days)), (double)(start.OffsetSeconds + (Window.Highest * days)));
        var ends = Points.SelectMany(point => new[] { (double)(point.OffsetSeconds - point.PlusMinusSeconds), (double)(point.OffsetSeconds + point.PlusMinusSeconds) }).Append(wedge.Low).Append(wedge.High).ToArray();
        var more = Math.Max((ends.Max() - ends.Min()) * 0.06, 0.2);
        frame.Range(-last * 0.04, last, ends.Min() - more, ends.Max() + more);
        frame.Area((0, (double)start.OffsetSeconds), (last, wedge.Low), (last, wedge.High));
        frame.Line(0, (double)start.OffsetSeconds, last, wedge.Low, PlotFrame.Grey, 1, Stroke.Dashed);
        frame.Line(0, (double)start.OffsetSeconds, last, wedge.High, PlotFrame.Grey, 1, Stroke.Dashed);
        frame.FiguresUp(figure => PlotWords.Signed(figure, Language), Phrase.Of("seconds ahead").In(Language));
        frame.FiguresAcross(figure => PlotWords.Plain(figure, Language), Phrase.Of("hours since the start").In(Language));
        if (Line is { } line)
        {
            var end = Points.Max(point => point.Hours);
            frame.Line(0, (double)line.AtStartSeconds, (double)end, (double)(line.AtStartSeconds + (line.RatePerDaySeconds * end / 24)), PlotFrame.Accent, 1.8f);
        }

        foreach (var point in Points)
        {
            frame.Uncertainty((double)point.Hours, (double)point.OffsetSeconds, (double)point.PlusMinusSeconds, foot: 5);
            frame.Point((double)point.Hours, (double)point.OffsetSeconds, Mark.Full, size: 7);
        }
    }
}
