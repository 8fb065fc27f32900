using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Charts;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Service.Features.Charts;

/// <summary>A chart with the worn checks it is made of.</summary>
/// <param name="First">The number of the first point shown.</param>
internal sealed record FoundChart(ChartSeries Series, ChartRestart? Restart, ImmutableArray<(Label Job, WornRate Rate)> Rates, ControlChart Chart, int First, ShopRules Rules)
{
    public ControlChartView View(Language language) => new(
        Series.Bench, Series.Instrument,
        Restart is { } restart ? new ChartRestartView(restart.At, restart.By, restart.Reason) : null,
        Rates.Length, ControlChart.D2, ControlChart.D4,
        Chart.Limits is { } limits
            ? new ChartLimitsView(Rounded(limits.Mean), Rounded(limits.Lowest), Rounded(limits.Highest), Rounded(limits.MeanRange), Rounded(limits.HighestRange), limits.Points, limits.Frozen)
            : null,
        [
            .. Rates.Index().Skip(First - 1).Select(one => new ChartPointView(
                one.Index + 1, one.Item.Job, one.Item.Rate.At, one.Item.Rate.Person, one.Item.Rate.Bench, one.Item.Rate.Instrument, Rounded(one.Item.Rate.RatePerDaySeconds),
                one.Index == 0 ? null : Rounded(Chart.Ranges[one.Index - 1]))),
        ],
        [.. Signals().Select(signal => new ChartSignalView(signal.Point + 1, Rates[signal.Point].Job, signal.Kind, Rounded(signal.Figure), Rounded(signal.Limit), Said(signal).In(language)))],
        [.. Words().Select(words => words.In(language))]);

    public ControlChartPlot Plot(Language language) => new(
        Name(language), Chart, First, (Day(Rates[First - 1].Rate.At, language), Day(Rates[^1].Rate.At, language)),
        [.. Words(), .. Signals().Take(SignalsOnPaper).Select(Said), .. Signals().Count() > SignalsOnPaper ? [Phrase.Of("And {0} more outside.", Signals().Count() - SignalsOnPaper)] : Array.Empty<Phrase>()],
        language);

    private const int SignalsOnPaper = 8;

    private IEnumerable<ChartSignal> Signals() => Chart.Signals.Where(signal => signal.Point >= First - 1);

    private IEnumerable<Phrase> Words()
    {
        if (Chart.Limits is { } limits)
        {
            yield return limits.Frozen
                ? Phrase.Of("Limits from the first {0} worn checks, frozen: {1} to {2} s/d about {3}; a step is at most {4}.",
                    limits.Points, PlotWords.Tenths(limits.Lowest), PlotWords.Tenths(limits.Highest), PlotWords.Tenths(limits.Mean), new Figure(limits.HighestRange))
                : Phrase.Of("Limits from {0} worn checks, still moving until there are {1}: {2} to {3} s/d about {4}; a step is at most {5}.",
                    limits.Points, Rules.Charts.BaselinePoints, PlotWords.Tenths(limits.Lowest), PlotWords.Tenths(limits.Highest), PlotWords.Tenths(limits.Mean), new Figure(limits.HighestRange));
            yield return Phrase.Of("Mean ± 3 mean steps / {0}; a step at most {1} mean steps.", new Figure(ControlChart.D2, "0.000"), new Figure(ControlChart.D4, "0.000"));
        }
        else
        {
            yield return Phrase.Of("{0} worn checks: no limits before there are {1}.", Rates.Length, Rules.Charts.LeastPoints);
        }

        if (Restart is { } restart)
        {
            yield return Phrase.Of("Begun anew {0}: {1}", restart.At.InZone(Rules.Calendar.Zone), restart.Reason);
        }

        if (Chart.Limits is not null && !Signals().Any())
        {
            yield return Phrase.Of("Nothing lies outside.");
        }
    }

    private Phrase Said(ChartSignal signal)
    {
        var (number, job, day) = (signal.Point + 1, $"{Rates[signal.Point].Job}", Rules.Calendar.DateOf(Rates[signal.Point].Rate.At));
        return signal.Kind switch
        {
            SignalKind.Above => Phrase.Of("{0}: {1} of {2}, {3} s/d, lies above the upper limit {4}.", number, job, day, PlotWords.Tenths(signal.Figure), PlotWords.Tenths(signal.Limit)),
            SignalKind.Below => Phrase.Of("{0}: {1} of {2}, {3} s/d, lies below the lower limit {4}.", number, job, day, PlotWords.Tenths(signal.Figure), PlotWords.Tenths(signal.Limit)),
            _ => Phrase.Of("{0}: {1} of {2} is {3} s/d away from the one before; a step is at most {4}.", number, job, day, new Figure(signal.Figure), new Figure(signal.Limit)),
        };
    }

    private string Name(Language language) => Series switch
    {
        { Bench: { } bench, Instrument: { } instrument } => $"{bench}, {instrument}",
        { Bench: { } bench } => bench,
        { Instrument: { } instrument } => Phrase.Of("regulated by {0}", instrument).In(language),
        _ => "",
    };

    private string Day(Instant at, Language language) => Dates.Day(Rules.Calendar.DateOf(at), language);

    private static decimal Rounded(decimal figure) => Math.Round(figure, 2, MidpointRounding.AwayFromZero);
}
