using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;

namespace Workshop.Core.Charts;

/// <summary>The rate of one worn check that came to a verdict; what a control chart is made of.</summary>
/// <param name="Check">The entry that started the check.</param>
/// <param name="At">When it was read last.</param>
/// <param name="Bench">Where it was read; null where nobody said so.</param>
/// <param name="Person">Who read it.</param>
/// <param name="Instrument">
/// What the watch was regulated by: the instrument of the newest rate set before the check began that names one. The hands are read
/// against the server's clock, which does not drift; what shifts many worn rates at once is what they were regulated by.
/// </param>
/// <param name="RatePerDaySeconds">Seconds gained per day of true time, unrounded.</param>
public sealed record WornRate(EventId Check, Instant At, string? Bench, string? Person, string? Instrument, decimal RatePerDaySeconds);

/// <summary>The figures of one rate set, with what is needed to hold it against another instrument's.</summary>
/// <param name="Ground">
/// Counts what was done to the watch: index touched, taken down, rebuilt, opened, a part fitted, sent back. Two sets of one number are
/// of a watch that nobody has touched in between.
/// </param>
/// <param name="Rates">Seconds gained per day by position.</param>
public sealed record RateMean(
    EventId Set, Instant At, string? Bench, string? Instrument, WindState? WindState, bool? Cased, bool Running, int Ground, decimal MeanPerDaySeconds, decimal SpreadPerDaySeconds,
    ImmutableSortedDictionary<Position, decimal> Rates)
{
    public bool Equals(RateMean? other) => other is not null
        && (Set, At, Bench, Instrument, WindState, Cased, Running, Ground, MeanPerDaySeconds, SpreadPerDaySeconds)
            == (other.Set, other.At, other.Bench, other.Instrument, other.WindState, other.Cased, other.Running, other.Ground, other.MeanPerDaySeconds, other.SpreadPerDaySeconds)
        && Rates.SequenceEqual(other.Rates);

    public override int GetHashCode() => HashCode.Combine(Set, At);
}

/// <summary>What a job adds to the figures of the house: worn rates and rate means. They stand in tables of their own, folded from the job and written with it.</summary>
public sealed record RateLedger
{
    public ImmutableArray<WornRate> Worn { get; init; } = [];

    public ImmutableArray<RateMean> Means { get; init; } = [];

    /// <summary>What was done to the watch so far, counted.</summary>
    public int Ground { get; init; }

    /// <summary>The ledger after one more entry.</summary>
    /// <param name="timekeeping">As it is after the entry.</param>
    /// <param name="checks">As they are after the entry.</param>
    /// <param name="touched">The entry says that something was done to the watch after which it is not the same for an instrument.</param>
    public RateLedger Hear(Entry entry, TimekeepingRecord timekeeping, WearCheckRecord checks, bool touched) => entry.Event switch
    {
        _ when touched => this with { Ground = Ground + 1 },
        RateSetRecorded when timekeeping.RateSets is [.., var set] && set.Id == entry.Id => this with { Means = Means.Add(MeanOf(set)) },
        WearCheckRead or WearCheckConfirmed when JudgedNow(checks) is { } judged => this with { Worn = Worn.Add(RateOf(judged, timekeeping)) },
        _ => this,
    };

    private WearCheck? JudgedNow(WearCheckRecord checks) => checks.Checks.LastOrDefault(check =>
        check is { Verdict: WearVerdict.Pass or WearVerdict.Outside or WearVerdict.OutsideFar, Readings: [.., { RatePerDaySeconds: not null }] }
        && Worn.All(one => one.Check != check.Start));

    private static WornRate RateOf(WearCheck check, TimekeepingRecord timekeeping)
    {
        var reading = check.Readings[^1];
        var by = check.LastRead?.Entry;
        return new WornRate(
            check.Start, reading.At, by?.Judged.Bench, by?.Person,
            timekeeping.RateSets.LastOrDefault(set => set.Told.Instrument is not null && set.At <= check.StartedAt)?.Told.Instrument,
            reading.RatePerDaySeconds!.Value);
    }

    private RateMean MeanOf(RateSet set) => new(
        set.Id, set.At, set.Bench, set.Told.Instrument, set.Told.WindState, set.Told.Cased, set.Told.ChronographRunning == true, Ground,
        set.Figures.MeanPerDaySeconds, set.Figures.SpreadPerDaySeconds, PositionPattern.LastRates(set.Told.Readings).ToImmutableSortedDictionary());
}
