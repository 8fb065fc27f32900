using System.Collections.Immutable;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Prints.Plots;

namespace Workshop.Service.Features.Charts;

/// <summary>
/// A rate set as a ladder: two rails on one scale of seconds a day, before and after, and a rung for each position from where it was to
/// where it is. The window of the job's kind is a tint of the paper; it is the window of the mean, whose rung is the accent.
/// </summary>
/// <param name="Before">null where there is one set only.</param>
/// <param name="Window">null where the kind of work has no tolerance.</param>
internal sealed record LadderPlot(
    string Job, RateSet? Before, RateSet After, string? BeforeWords, string AfterWords, RateWindow? Window, string? Kind, Language Language)
{
    private const float BetweenBars = 7;
    private const float Leader = 18;
    private const float NarrowLeader = 10;

    private sealed record Rung(string Words, string Short, decimal? Before, decimal? After, bool IsMean)
    {
        public decimal Shown => After ?? Before!.Value;
    }

    public PlotSheet Sheet() => new(
        Phrase.Of("{0}: rates by position, s/d", Job).In(Language),
        [.. Caption().Select(sentence => sentence.In(Language))],
        [new PlotPanel(width => width < 480 ? 400 : MathF.Min(width * 0.62f, 620), Draw)]);

    private IEnumerable<Phrase> Caption()
    {
        if (Before is { } before)
        {
            yield return Phrase.Of("Left as measured {0}, right {1}.", BeforeWords!, AfterWords);
            yield return Phrase.Of("Mean {0} s/d before, {1} s/d after; spread {2} and {3} s/d.",
                PlotWords.Tenths(before.Figures.MeanPerDaySeconds), PlotWords.Tenths(After.Figures.MeanPerDaySeconds), new Figure(before.Figures.SpreadPerDaySeconds), new Figure(After.Figures.SpreadPerDaySeconds));
        }
        else
        {
            yield return Phrase.Of("Measured {0}; there is no earlier set. Mean {1} s/d, spread {2} s/d.",
                AfterWords, PlotWords.Tenths(After.Figures.MeanPerDaySeconds), new Figure(After.Figures.SpreadPerDaySeconds));
        }

        yield return Window is { } window
            ? Phrase.Of("Tint: window of the mean, {0} to {1} s/d ({2}).", PlotWords.Tenths(window.Lowest), PlotWords.Tenths(window.Highest), Kind ?? "")
            : Phrase.Of("No tolerance is set for this kind of work.");
        yield return Before is not null && HalfStep(Before) != HalfStep(After)
            ? Phrase.Of("Bars: half a step of the figures as they were told, ± {0} s/d before and ± {1} after; what a position repeats by is not in them.", new Figure(HalfStep(Before), "0.0##"), new Figure(HalfStep(After), "0.0##"))
            : Phrase.Of("Bars: half a step of the figures as they were told, ± {0} s/d; what a position repeats by is not in them.", new Figure(HalfStep(After), "0.0##"));
    }

    private void Draw(PlotFrame frame)
    {
        var rungs = Rungs();
        var size = frame.Letter;
        var (nameWide, leftWide) = (rungs.Max(rung => PlotFrame.WidthOf(Label(rung), size, rung.IsMean)), Before is null ? 0 : rungs.Max(rung => rung.Before is null ? 0 : PlotFrame.WidthOf(OldLabel(rung), size, rung.IsMean)));
        frame.Leave(left: 3.2f, right: 0.2f, bottom: 0.6f, top: 1.6f);
        var dots = frame.Across;
        var leader = frame.Narrow ? NarrowLeader : Leader;
        var (leftRail, rightRail) = (leftWide + (Before is null ? 8 : leader + 10), dots - nameWide - leader - 8);
        var bars = Math.Min(BetweenBars, (rightRail - leftRail) * 0.3f / rungs.Length);
        var (low, high) = Ends(rungs);

        // Room at the top for what the rails are called.
        var above = (high - low) * (decimal)(size * 2.4f / (frame.Upwards - (size * 2.4f)));
        frame.Range(0, dots, (double)low, (double)(high + above));
        if (Window is { } window)
        {
            Tinted(frame, Math.Max(low, window.Lowest), Math.Min(high, window.Highest), leftRail, rightRail, window);
        }

        frame.FiguresUp(Said, Phrase.Of("s/d").In(Language), (leftRail, rightRail));
        frame.NothingAcross();
        if (low < 0 && high > 0)
        {
            frame.Line(leftRail, 0, rightRail, 0, PlotFrame.Grey, 1, Stroke.Dotted);
        }

        foreach (var rail in Before is null ? new[] { leftRail, rightRail } : [leftRail, rightRail])
        {
            frame.Line(rail, (double)low, rail, (double)high, PlotFrame.Ink, 2.2f);
        }

        if (Before is not null)
        {
            frame.Text(leftRail, (double)high, Phrase.Of("before").In(Language), Beside.Above, bold: true);
            frame.Text(rightRail, (double)high, Phrase.Of("after").In(Language), Beside.Above, bold: true);
        }

        Rungs(frame, rungs, leftRail, rightRail, bars);
        Labels(frame, rungs, leftRail, rightRail, leader, (double)low, (double)high);
    }

    private static void Tinted(PlotFrame frame, decimal lowest, decimal highest, float from, float to, RateWindow window)
    {
        if (lowest >= highest)
        {
            return;
        }

        frame.Area((from, (double)lowest), (to, (double)lowest), (to, (double)highest), (from, (double)highest));
        foreach (var edge in new[] { window.Lowest, window.Highest }.Where(edge => edge >= lowest && edge <= highest))
        {
            frame.Line(from, (double)edge, to, (double)edge, PlotFrame.Grey, 1, Stroke.Dashed);
        }
    }

    private void Rungs(PlotFrame frame, ImmutableArray<Rung> rungs, float leftRail, float rightRail, float bars)
    {
        var landing = (bars * rungs.Length) + 6;
        foreach (var (i, rung) in rungs.Index())
        {
            var (colour, thick) = rung.IsMean ? (PlotFrame.Accent, 2.4f) : (PlotFrame.Ink, 1.3f);
            var stroke = rung.IsMean ? Stroke.Dashed : Stroke.Whole;
            if (rung.Before is { } old)
            {
                frame.Line(leftRail, (double)old, leftRail + landing, (double)old, colour, thick, stroke);
                if (!rung.IsMean)
                {
                    frame.Uncertainty(leftRail + (bars * (i + 1)), (double)old, (double)HalfStep(Before!), colour, Math.Min(3, bars * 0.45f));
                }
            }

            if (rung.After is { } now)
            {
                frame.Line(Before is null ? leftRail : rightRail - landing, (double)now, rightRail, (double)now, colour, thick, stroke);
                if (!rung.IsMean)
                {
                    frame.Uncertainty(rightRail - (bars * (i + 1)), (double)now, (double)HalfStep(After), colour, Math.Min(3, bars * 0.45f));
                }
            }

            if (rung is { Before: { } from, After: { } to })
            {
                frame.Line(leftRail + landing, (double)from, rightRail - landing, (double)to, colour, thick, stroke);
            }
        }
    }

    private void Labels(PlotFrame frame, ImmutableArray<Rung> rungs, float leftRail, float rightRail, float leader, double low, double high)
    {
        var apart = frame.DotsUp(frame.Letter * 1.3f);
        foreach (var (rung, at) in Spread(rungs, rung => (double)rung.Shown, apart, low, high))
        {
            frame.Line(rightRail + 3, (double)rung.Shown, rightRail + leader, at, rung.IsMean ? PlotFrame.Accent : PlotFrame.Grey, 0.9f);
            frame.Text(rightRail + leader, at, Label(rung), Beside.Right, rung.IsMean ? PlotFrame.Accent : PlotFrame.Ink, rung.IsMean);
        }

        foreach (var (rung, at) in Spread([.. rungs.Where(rung => rung.Before is not null)], rung => (double)rung.Before!.Value, apart, low, high))
        {
            frame.Line(leftRail - 3, (double)rung.Before!.Value, leftRail - leader, at, rung.IsMean ? PlotFrame.Accent : PlotFrame.Grey, 0.9f);
            frame.Text(leftRail - leader, at, OldLabel(rung), Beside.Left, rung.IsMean ? PlotFrame.Accent : PlotFrame.Ink, rung.IsMean);
        }
    }

    // Fastest on top, as on the scale.
    private ImmutableArray<Rung> Rungs()
    {
        var (before, after) = (Before is null ? [] : Rates(Before), Rates(After));
        var crown = After.Terms?.CrownHourTaken() ?? ControlPosition.UsualCrownHour;
        var positions = before.Keys.Union(after.Keys).Select(position => new Rung(
            $"{WordLists.Of(position, Language)} {ControlPosition.SymbolOf(position, crown)}", ControlPosition.SymbolOf(position, crown),
            before.TryGetValue(position, out var old) ? old : null, after.TryGetValue(position, out var now) ? now : null, false));
        return [.. positions.Append(new Rung(Phrase.Of("mean").In(Language), "", Before?.Figures.MeanPerDaySeconds, After.Figures.MeanPerDaySeconds, true)).OrderByDescending(rung => rung.Shown)];
    }

    private (decimal Low, decimal High) Ends(ImmutableArray<Rung> rungs)
    {
        var figures = rungs.SelectMany(rung => new[] { rung.Before, rung.After }).OfType<decimal>().ToArray();
        var bar = Before is null ? HalfStep(After) : Math.Max(HalfStep(Before), HalfStep(After));
        var (low, high) = (figures.Min() - bar, figures.Max() + bar);
        if (Window is { } window)
        {
            (low, high) = (Math.Min(low, window.Lowest), Math.Max(high, window.Highest));
        }

        var more = Math.Max((high - low) * 0.06m, 0.5m);
        return (low - more, high + more);
    }

    private string Label(Rung rung) => rung.After is { } rate ? $"{rung.Words} {Said(rung, rate)}" : $"{rung.Words} –";

    private string OldLabel(Rung rung) => $"{rung.Short} {Said(rung, rung.Before!.Value)}".Trim();

    // A mean has no step that anybody told.
    private string Said(Rung rung, decimal rate) => rung.IsMean ? PlotWords.Tenths(rate).In(Language) : Said(rate);

    private string Said(decimal rate) => PlotWords.Signed(rate, Language);

    private static Dictionary<Position, decimal> Rates(RateSet set) => set.Told.Readings.GroupBy(reading => reading.Position).ToDictionary(of => of.Key, of => of.Last().RatePerDaySeconds);

    // Told to the second or to the tenth: the finest figure of a set shows its step.
    internal static decimal HalfStep(RateSet set)
    {
        var places = set.Told.Readings.Max(reading => (reading.RatePerDaySeconds / 1.000000000000000000000000000000000m).Scale);
        return places switch { 0 => 0.5m, 1 => 0.05m, _ => 0.005m };
    }

    // From the top down each label as near to its figure as those above allow, then from the bottom up where they would fall off.
    private static IEnumerable<(Rung Rung, double At)> Spread(ImmutableArray<Rung> rungs, Func<Rung, double> at, double apart, double low, double high)
    {
        var sorted = rungs.OrderByDescending(at).ToArray();
        var places = sorted.Select(at).ToArray();
        for (var round = 0; round < 60; round++)
        {
            for (var i = 1; i < places.Length; i++)
            {
                if (places[i - 1] - places[i] is var gap && gap < apart)
                {
                    places[i - 1] += (apart - gap) / 2;
                    places[i] -= (apart - gap) / 2;
                }
            }

            for (var i = 0; i < places.Length; i++)
            {
                places[i] = Math.Clamp(places[i], low + (apart * (places.Length - 1 - i)) + (apart / 2), high - (apart * i));
            }
        }

        return sorted.Zip(places);
    }
}
