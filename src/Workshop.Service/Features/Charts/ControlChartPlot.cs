using System.Collections.Immutable;
using Workshop.Core.Charts;
using Workshop.Core.Words;
using Workshop.Service.Prints.Plots;

namespace Workshop.Service.Features.Charts;

/// <summary>Worn rates of a series one after the other, and beneath them the step from each to the next; limits as lines with their figures.</summary>
/// <param name="First">The number of the first point shown; 1 is the first of the chart.</param>
/// <param name="Days">When the first and the last point shown was read, in words.</param>
/// <param name="Said">What is said beneath.</param>
internal sealed record ControlChartPlot(string Of, ControlChart Chart, int First, (string First, string Last) Days, ImmutableArray<Phrase> Said, Language Language)
{
    private ImmutableArray<(int Number, decimal Rate)> Figures => [.. Chart.Figures.Index().Skip(First - 1).Select(one => (one.Index + 1, one.Item))];

    // Marks at both ends lie whole within the axes, however many there are between them.
    private double Left => First - 0.6 - (Shown * 0.03);

    private double Right => Chart.Figures.Length + 0.6 + (Shown * 0.03);

    private int Shown => Chart.Figures.Length - First + 1;

    public PlotSheet Sheet() => new(
        Phrase.Of("Worn rates: {0}", Of).In(Language),
        [.. Said.Select(sentence => sentence.In(Language))],
        [
            new PlotPanel(width => width < 480 ? 250 : MathF.Min(width * 0.36f, 400), Individuals),
            new PlotPanel(width => width < 480 ? 180 : MathF.Min(width * 0.24f, 280), Ranges),
        ]);

    private void Individuals(PlotFrame frame)
    {
        var figures = Figures.Select(one => one.Rate).Concat(Chart.Limits is { } known ? [known.Lowest, known.Highest] : []).ToArray();
        Begin(frame, (double)figures.Min(), (double)figures.Max(), Phrase.Of("s/d").In(Language), signed: true, bottom: 0.8f);
        frame.NothingAcross();
        if (Chart.Limits is { } limits)
        {
            Between(frame, (double)limits.Lowest, (double)limits.Highest);
            Limit(frame, limits.Highest, Stroke.Dashed, signed: true);
            Limit(frame, limits.Mean, Stroke.Dotted, signed: true);
            Limit(frame, limits.Lowest, Stroke.Dashed, signed: true);
            EndOfBaseline(frame, limits, (double)figures.Min(), (double)figures.Max());
        }

        Points(frame, [.. Figures.Select(one => (one.Number, one.Rate, Outside(one.Number, SignalKind.Above) || Outside(one.Number, SignalKind.Below)))]);
    }

    private void Ranges(PlotFrame frame)
    {
        var steps = Figures.Where(one => one.Number > 1).Select(one => (one.Number, Step: Chart.Ranges[one.Number - 2])).ToImmutableArray();
        var highest = steps.Select(one => one.Step).Concat(Chart.Limits is { } known ? [known.HighestRange] : []).DefaultIfEmpty(1).Max();
        Begin(frame, 0, (double)highest, Phrase.Of("step to the next, s/d").In(Language), signed: false, bottom: 3.4f);
        frame.FiguresAcross(figure => PlotWords.Plain(figure, Language), Phrase.Of("worn check, from {0} to {1}", Days.First, Days.Last).In(Language), whole: true);
        if (Chart.Limits is { } limits)
        {
            Between(frame, 0, (double)limits.HighestRange);
            Limit(frame, limits.HighestRange, Stroke.Dashed, signed: false);
            Limit(frame, limits.MeanRange, Stroke.Dotted, signed: false);
        }

        Points(frame, [.. steps.Select(one => (one.Number, one.Step, Outside(one.Number, SignalKind.Step)))]);
    }

    private void Begin(PlotFrame frame, double low, double high, string unit, bool signed, float bottom)
    {
        frame.Leave(left: 3.4f, right: 3.4f, bottom, top: 1.7f);
        var more = Math.Max((high - low) * (signed ? 0.14 : 0.3), 0.1);
        frame.Range(Left, Right, signed ? low - more : 0, high + more);
        frame.FiguresUp(figure => signed ? PlotWords.Signed(figure, Language) : PlotWords.Plain(figure, Language), unit);
    }

    private void Between(PlotFrame frame, double low, double high) =>
        frame.Area((Left, low), (Right, low), (Right, high), (Left, high));

    private void Limit(PlotFrame frame, decimal at, Stroke stroke, bool signed)
    {
        frame.Line(Left, (double)at, Right, (double)at, PlotFrame.Ink, 1.1f, stroke);
        frame.RightOf((double)at, signed ? new Figure(at, "+0.0;−0.0;0.0").In(Language) : new Figure(at).In(Language));
    }

    // Where the points end from which the limits were computed.
    private void EndOfBaseline(PlotFrame frame, ControlLimits limits, double low, double high)
    {
        if (limits.Frozen && limits.Points < Chart.Figures.Length && limits.Points >= First)
        {
            frame.Line(limits.Points + 0.5, low, limits.Points + 0.5, high, PlotFrame.Grey, 1, Stroke.Dotted);
        }
    }

    private bool Outside(int number, SignalKind kind) => Chart.Signals.Any(signal => signal.Point == number - 1 && signal.Kind == kind);

    private static void Points(PlotFrame frame, ImmutableArray<(int Number, decimal Figure, bool Outside)> points)
    {
        foreach (var (one, next) in points.Zip(points.Skip(1)))
        {
            frame.Line(one.Number, (double)one.Figure, next.Number, (double)next.Figure, PlotFrame.Grey, 1);
        }

        foreach (var point in points)
        {
            frame.Point(point.Number, (double)point.Figure, point.Outside ? Mark.Open : Mark.Full, point.Outside ? PlotFrame.Accent : PlotFrame.Ink, point.Outside ? 13 : 5.5f);
            if (point.Outside)
            {
                frame.Text(point.Number, (double)point.Figure, $"{point.Number}", Beside.Above, PlotFrame.Accent, bold: true, lift: 0.35f);
            }
        }
    }
}
