using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Charts;
using Workshop.Core.House;
using Workshop.Core.Labels;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Charts;

/// <summary>Every chart there is: of each bench, of each instrument, and of both together.</summary>
public sealed record ControlChartsView(ImmutableArray<ChartSeriesView> Items);

/// <param name="Bench">Absent: of every bench.</param>
/// <param name="Instrument">What the watches were regulated by: the instrument of the newest rate set before the check began. Absent: whatever it was.</param>
/// <param name="Points">Worn checks since it was last begun anew.</param>
/// <param name="LastAt">When the newest worn check was read, restarted or not.</param>
/// <param name="RestartedAt">Absent where nobody let it begin anew.</param>
public sealed record ChartSeriesView(string? Bench, string? Instrument, int Points, Instant LastAt, Instant? RestartedAt);

/// <summary>Worn rates of a bench, an instrument or both, one by one; seconds gained per day of true time, shown to two decimals, held against limits unrounded.</summary>
/// <param name="Points">Worn checks since the chart began; what is listed may be fewer.</param>
/// <param name="D2">The mean range of two figures in standard deviations: limits are the mean ± 3 mean ranges / d2.</param>
/// <param name="D4">The upper limit of a range is D4 mean ranges.</param>
/// <param name="Limits">Absent with too few worn checks.</param>
/// <param name="Items">The newest, oldest first.</param>
/// <param name="Signals">What of these lies outside.</param>
/// <param name="Words">In the caller's language.</param>
public sealed record ControlChartView(
    string? Bench, string? Instrument, ChartRestartView? Restart, int Points, decimal D2, decimal D4, ChartLimitsView? Limits, ImmutableArray<ChartPointView> Items,
    ImmutableArray<ChartSignalView> Signals, ImmutableArray<string> Words);

public sealed record ChartRestartView(Instant At, string? By, string Reason);

/// <param name="MeanRangePerDaySeconds">Mean of the steps from each worn check to the next.</param>
/// <param name="HighestRangePerDaySeconds">Upper limit of such a step.</param>
/// <param name="Points">Worn checks they were computed from, the first of the chart.</param>
/// <param name="Frozen">They stay until a manager lets the chart begin anew.</param>
public sealed record ChartLimitsView(
    decimal MeanPerDaySeconds, decimal LowestPerDaySeconds, decimal HighestPerDaySeconds, decimal MeanRangePerDaySeconds, decimal HighestRangePerDaySeconds, int Points, bool Frozen);

/// <param name="Number">1 is the first of the chart.</param>
/// <param name="RangePerDaySeconds">The step from the one before; absent for the first.</param>
public sealed record ChartPointView(int Number, Label Job, Instant At, string? Person, string? Bench, string? Instrument, decimal RatePerDaySeconds, decimal? RangePerDaySeconds);

/// <param name="Number">Of the point.</param>
/// <param name="Words">In the caller's language.</param>
public sealed record ChartSignalView(int Number, Label Job, SignalKind Kind, decimal FigurePerDaySeconds, decimal LimitPerDaySeconds, string Words);

/// <summary>Individuals and moving range of worn rates, so that an instrument or a hand that has changed is seen before a customer sees it.</summary>
public static class ReadControlCharts
{
    private const int UsualPoints = 60;
    private const int MostPoints = 200;

    public static async Task<Done<ControlChartsView>> List(Caller caller, Reader reader, CancellationToken cancel) => Answer.Done(await reader.Read(
        connection =>
        {
            var house = House.Replay(Reader.Entries(connection, caller.Site, House.Stream));
            return new ControlChartsView(
            [
                .. from row in RateRows.Series(connection, caller.Site)
                   from series in ChartSeries.Of(row.Bench, row.Instrument)
                   group row by series into of
                   let restart = ChartRestart.LastOf(house.ChartRestarts, of.Key)
                   orderby of.Key.Bench is null, of.Key.Bench, of.Key.Instrument
                   select new ChartSeriesView(
                       of.Key.Bench, of.Key.Instrument,
                       restart is null ? (int)of.Sum(row => row.WornChecks) : RateRows.Count(connection, caller.Site, of.Key, restart.At),
                       Microseconds.Read(of.Max(row => row.LastAt)), restart?.At),
            ]);
        }, cancel));

    /// <param name="bench">Of this bench.</param>
    /// <param name="instrument">Of watches regulated by this instrument.</param>
    /// <param name="points">How many of the newest are listed.</param>
    public static async Task<Results<Done<ControlChartView>, ProblemHttpResult>> One(
        string? bench, string? instrument, string? points, Caller caller, LanguageAsked language, Reader reader, ShopRulesSource source, CancellationToken cancel)
    {
        if (!TryRead(bench, instrument, points, out var series, out var shown, out var refusal))
        {
            return refusal!;
        }

        return await Found(caller.Site, series, shown, reader, source, cancel) is { } found ? Answer.Done(found.View(language.Best)) : None();
    }

    public static async Task<Results<Printed, ProblemHttpResult>> Draw(
        string form, string? bench, string? instrument, string? points, string? width, string? scale,
        Caller caller, LanguageAsked language, Reader reader, ShopRulesSource source, CancellationToken cancel)
    {
        if (PlotAsked.Read(form, width, scale, out var refusal) is not { } asked || !TryRead(bench, instrument, points, out var series, out var shown, out refusal))
        {
            return refusal!;
        }

        return await Found(caller.Site, series, shown, reader, source, cancel) is { } found ? asked.Draw(found.Plot(language.Best).Sheet(), "worn-rates") : None();
    }

    private static bool TryRead(string? bench, string? instrument, string? points, out ChartSeries series, out int shown, out ProblemHttpResult? refusal)
    {
        series = new ChartSeries(Known(bench), Known(instrument));
        shown = UsualPoints;
        if (series == default)
        {
            refusal = Problems.BadParameter("bench", "A chart is of a bench, of an instrument, or of both");
            return false;
        }

        if (!PlotAsked.TryCount("points", points, MostPoints, out var asked, out refusal))
        {
            return false;
        }

        shown = asked ?? UsualPoints;
        return true;
    }

    private static string? Known(string? said) => string.IsNullOrWhiteSpace(said) ? null : said.Trim();

    private static ProblemHttpResult None() => Problems.Of(ProblemCatalogue.NoSuchThing, "No worn check of this bench and instrument has come to a verdict since the chart began: there is nothing to chart.");

    private static async Task<FoundChart?> Found(string site, ChartSeries series, int shown, Reader reader, ShopRulesSource source, CancellationToken cancel)
    {
        var rules = await source.Read(site, cancel);
        return await reader.Read(
            connection =>
            {
                var restart = ChartRestart.LastOf(House.Replay(Reader.Entries(connection, site, House.Stream)).ChartRestarts, series);
                var rates = RateRows.Worn(connection, site, series, restart?.At);
                return rates.IsEmpty ? null : new FoundChart(series, restart, rates, ControlChart.Of([.. rates.Select(one => one.Rate.RatePerDaySeconds)], rules.Charts), Math.Max(1, rates.Length - shown + 1), rules);
            }, cancel);
    }
}
