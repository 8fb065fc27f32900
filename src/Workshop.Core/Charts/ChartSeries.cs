using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Charts;

/// <summary>Whose worn checks a chart is of.</summary>
/// <param name="Bench">null: of every bench.</param>
/// <param name="Instrument">null: whatever they were regulated by.</param>
public readonly record struct ChartSeries(string? Bench, string? Instrument)
{
    /// <summary>Every series that a worn check belongs to: its bench, its instrument, and both together.</summary>
    public static IEnumerable<ChartSeries> Of(string? bench, string? instrument)
    {
        if (bench is not null)
        {
            yield return new ChartSeries(bench, null);
        }

        if (instrument is not null)
        {
            yield return new ChartSeries(null, instrument);
        }

        if (bench is not null && instrument is not null)
        {
            yield return new ChartSeries(bench, instrument);
        }
    }
}

/// <summary>Charts that began anew.</summary>
/// <param name="By">The manager, where somebody was named.</param>
public sealed record ChartRestart(EventId Id, Instant At, string? By, string? Bench, string? Instrument, string Reason)
{
    /// <summary>
    /// Whether a series begins anew: what the restart leaves out is any, and what it names the series must be of. A chart of a bench
    /// whatever the instrument goes on where one instrument was changed.
    /// </summary>
    public bool Concerns(ChartSeries series) => (Bench is null || Bench == series.Bench) && (Instrument is null || Instrument == series.Instrument);

    public static ChartRestart? LastOf(IEnumerable<ChartRestart> restarts, ChartSeries series) => restarts.Where(one => one.Concerns(series)).MaxBy(one => one.At);
}
