using System.Collections.Immutable;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using Workshop.Service.Prints.Plots;

namespace Workshop.Service.Features.Charts;

/// <summary>A set at the hours since the mainspring was wound.</summary>
internal sealed record WoundSet(decimal Hours, RateSet Set)
{
    /// <summary>What was told, or what the wind state says: nothing at full wind, 24 after a day. Null for any other.</summary>
    public static WoundSet? Of(RateSet set) =>
        (set.Told.HoursSinceFullWind ?? set.Told.WindState switch { WindState.Full => 0, WindState.OneDay => 24, _ => (decimal?)null }) is { } hours
        && set.Readings.Any(reading => reading.AmplitudeDegrees is not null)
            ? new WoundSet(hours, set)
            : null;

    public ImmutableArray<decimal> Flat => [.. Degrees(flat: true)];

    public ImmutableArray<decimal> Upright => [.. Degrees(flat: false)];

    private IEnumerable<decimal> Degrees(bool flat) => Set.Readings
        .Where(reading => reading.Position is Position.DialUp or Position.DialDown == flat)
        .Select(reading => reading.AmplitudeDegrees).OfType<decimal>();
}

/// <summary>
/// Amplitude against hours since full wind. Flat positions are bars that lie, upright ones bars that stand; means are joined by a whole
/// and a dashed line. What is enough for the upright ones is tinted.
/// </summary>
/// <param name="LeftOut">Sets of which nobody told how far the mainspring was wound, or without an amplitude.</param>
/// <param name="SinceRebuild">Sets before the movement was rebuilt are left out.</param>
internal sealed record AmplitudePlot(string Job, ImmutableArray<WoundSet> Sets, int LeftOut, bool SinceRebuild, ToleranceKind? Kind, Language Language)
{
    private const double Turn = 360;

    public PlotSheet Sheet() => new(
        Phrase.Of("{0}: amplitude and hours since full wind", Job).In(Language),
        [.. Caption().Select(sentence => sentence.In(Language))],
        [new PlotPanel(width => width < 480 ? 320 : MathF.Min(width * 0.55f, 560), Draw)]);

    private IEnumerable<Phrase> Caption()
    {
        yield return Phrase.Of("Bars that lie: dial up and dial down, their means joined by a whole line. Bars that stand: upright positions, means joined by a dashed line.");
        if (Kind is { } kind && Limits().Any())
        {
            yield return Phrase.Of("Tint: enough upright, from {0} ({1}).", new Series([.. Limits().Select(limit => (object)Phrase.Of("{0}° at {1} h", new Figure(limit.Degrees, "0.#"), new Figure(limit.Hours, "0.#")))]), kind.Kind);
        }
        else
        {
            yield return Phrase.Of("No tolerance is set for this kind of work.");
        }

        if (Kind?.FlatFullDegrees is { Least: { } least } flat)
        {
            yield return flat.Most is { } most
                ? Phrase.Of("Bracket at full wind: flat from {0}° to {1}°.", new Figure(least, "0.#"), new Figure(most, "0.#"))
                : Phrase.Of("Bracket at full wind: flat from {0}°.", new Figure(least, "0.#"));
        }

        if (SinceRebuild)
        {
            yield return Phrase.Of("Sets since the movement was rebuilt.");
        }

        if (LeftOut > 0)
        {
            yield return LeftOut == 1 ? Phrase.Of("One set is left out: nobody told how far the mainspring was wound, or no amplitude.") : Phrase.Of("{0} sets are left out: nobody told how far the mainspring was wound, or no amplitude.", LeftOut);
        }
    }

    private void Draw(PlotFrame frame)
    {
        frame.Leave(left: 3.2f, right: 0.6f, bottom: 3.4f, top: 1.6f);
        var degrees = Sets.SelectMany(set => set.Flat.Concat(set.Upright)).Concat(Limits().Select(limit => limit.Degrees)).Concat(new[] { Kind?.FlatFullDegrees?.Least, Kind?.FlatFullDegrees?.Most }.OfType<decimal>()).ToArray();
        var last = Math.Max((double)Sets.Max(set => set.Hours), (double)Limits().Select(limit => limit.Hours).DefaultIfEmpty(4).Max());
        var (left, right) = (-last * 0.06, last * 1.06);
        var bottom = Math.Max(0, (double)degrees.Min() - 20);
        var top = Math.Min(Turn, (double)degrees.Max() + 15);
        frame.Range(left, right, bottom, top);
        if (Limits().ToArray() is { Length: > 0 } limits)
        {
            var edge = new[] { (left, (double)limits[0].Degrees) }.Concat(limits.Select(limit => ((double)limit.Hours, (double)limit.Degrees))).Append((right, (double)limits[^1].Degrees)).ToArray();
            frame.Area([(left, top), .. edge, (right, top)]);
            foreach (var (one, next) in edge.Zip(edge.Skip(1)))
            {
                frame.Line(one.Item1, one.Item2, next.Item1, next.Item2, PlotFrame.Grey, 1, Stroke.Dashed);
            }
        }

        frame.FiguresUp(figure => PlotWords.Plain(figure, Language), Phrase.Of("degrees").In(Language));
        frame.FiguresAcross(figure => PlotWords.Plain(figure, Language), Phrase.Of("hours since full wind").In(Language));
        if (Kind?.FlatFullDegrees is { Least: { } least } flat)
        {
            Bracket(frame, (double)least, (double?)flat.Most);
        }

        Means(frame, set => set.Flat, Stroke.Whole);
        Means(frame, set => set.Upright, Stroke.Dashed);
        foreach (var set in Sets)
        {
            foreach (var one in set.Flat)
            {
                frame.Point((double)set.Hours, (double)one, Mark.Lying, PlotFrame.Ink, 13);
            }

            foreach (var one in set.Upright)
            {
                frame.Point((double)set.Hours, (double)one, Mark.Standing, PlotFrame.Accent, 11);
            }
        }
    }

    private static void Bracket(PlotFrame frame, double least, double? most)
    {
        var (at, foot) = (-frame.DotsAcross(12), frame.DotsAcross(5));
        frame.Line(at, least, at + foot, least, PlotFrame.Grey, 1.6f);
        frame.Line(at, least, at, most ?? least + frame.DotsUp(12), PlotFrame.Grey, 1.6f);
        if (most is { } top)
        {
            frame.Line(at, top, at + foot, top, PlotFrame.Grey, 1.6f);
        }
    }

    private void Means(PlotFrame frame, Func<WoundSet, ImmutableArray<decimal>> of, Stroke stroke)
    {
        var means = Sets.GroupBy(set => set.Hours).OrderBy(at => at.Key).Select(at => (at.Key, Degrees: at.SelectMany(set => of(set)).ToArray())).Where(at => at.Degrees.Length > 0).Select(at => ((double)at.Key, (double)at.Degrees.Average())).ToArray();
        foreach (var (one, next) in means.Zip(means.Skip(1)))
        {
            frame.Line(one.Item1, one.Item2, next.Item1, next.Item2, stroke == Stroke.Whole ? PlotFrame.Ink : PlotFrame.Accent, 1.1f, stroke);
        }
    }

    private IEnumerable<(decimal Hours, decimal Degrees)> Limits()
    {
        if (Kind?.VerticalFullLeastDegrees is { } full)
        {
            yield return (0, full);
        }

        if (Kind?.VerticalOneDayLeastDegrees is { } later)
        {
            yield return (24, later);
        }
    }
}
