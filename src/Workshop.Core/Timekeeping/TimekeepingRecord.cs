using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping.Quantities;

namespace Workshop.Core.Timekeeping;

/// <summary>One rate set as it was told, and what it says as a whole.</summary>
/// <param name="Told">The readings, and how they were taken; frozen in the entry.</param>
/// <param name="Person">Who measured.</param>
public sealed record RateSet(EventId Id, Instant At, RateSetRecorded Told, RateSetFigures Figures, string? Person = null, string? Bench = null)
{
    /// <summary>Counts up with every touch of the index and every rebuild: sets of one number are of one and the same adjustment.</summary>
    public int Adjustment { get; init; }

    /// <summary>The right lift angle, where somebody has said since that the one told was wrong.</summary>
    public decimal? RightLiftAngleDegrees { get; init; }

    /// <summary>What it is judged by; null for a set that was measured before that was kept.</summary>
    public RateTerms? Terms { get; init; }

    /// <summary>The lift angle that counts.</summary>
    public decimal? LiftAngleDegrees => RightLiftAngleDegrees ?? Told.LiftAngleDegrees;

    public bool ChronographRunning => Told.ChronographRunning == true;

    /// <summary>The readings with their amplitudes at the right lift angle; each position once, as it was read last.</summary>
    public ImmutableArray<RateReading> Readings =>
        [.. Told.Readings.GroupBy(reading => reading.Position).Select(same => same.Last()).Select(reading =>
            RightLiftAngleDegrees is { } right && Told.LiftAngleDegrees is { } told && reading.AmplitudeDegrees is { } amplitude
                ? reading with { AmplitudeDegrees = new Amplitude(amplitude).AtLiftAngle(new LiftAngle(told), new LiftAngle(right)).Degrees }
                : reading)];

    /// <summary>The amplitude with the dial up, where it was measured at full wind; degrees at the right lift angle.</summary>
    public decimal? DialUpFullDegrees() =>
        Told.WindState == WindState.Full ? Readings.FirstOrDefault(reading => reading.Position == Position.DialUp)?.AmplitudeDegrees : null;
}

/// <summary>A criterion that a manager lets this watch miss.</summary>
/// <param name="Adjustment">The adjustment it was signed for.</param>
public sealed record ToleranceException(EventId Id, Instant At, CriterionKind Criterion, string Reason, string? Person, int Adjustment);

/// <summary>What is known of the rate: measurements are never void, the newest valid one counts.</summary>
public sealed record TimekeepingRecord
{
    public Instant? IndexTouchedAt { get; init; }

    public ImmutableArray<RateSet> RateSets { get; init; } = [];

    /// <summary>Signed by managers, in their order.</summary>
    public ImmutableArray<ToleranceException> Exceptions { get; init; } = [];

    /// <summary>How often the index was touched or the movement rebuilt.</summary>
    public int Adjustment { get; init; }

    public Heard<TimekeepingRecord> Apply(Entry entry) => entry.Event switch
    {
        IndexTouched => new(this with { IndexTouchedAt = entry.Effective, Adjustment = Adjustment + 1 }, new Fell(Stage.Regulation)),
        RateSetRecorded set when RateSetFigures.Of(set.Readings) is { } figures => new(this with
        {
            RateSets = RateSets.Add(new RateSet(entry.Id, entry.Effective, set, figures, entry.Person, entry.Judged.Bench) { Adjustment = Adjustment, Terms = entry.Judged.Rate }),
        }),
        LiftAngleCorrected corrected => new(this with { RateSets = [.. RateSets.Select(set => corrected.Of is null || corrected.Of == set.Id ? Corrected(set, corrected) : set)] }),
        ToleranceExcepted excepted => new(this with
        {
            Exceptions = Exceptions.Add(new ToleranceException(entry.Id, entry.Effective, excepted.Criterion, excepted.Reason, entry.Person, Adjustment)),
        }),
        _ => new(this),
    };

    /// <summary>The movement was put together anew: what was measured before is of another adjustment.</summary>
    public TimekeepingRecord Rebuilt() => this with { Adjustment = Adjustment + 1 };

    /// <summary>The amplitude with the dial up at full wind, as it was measured last; null where nobody has.</summary>
    public decimal? DialUpFullDegrees() => RateSets.LastOrDefault(set => set.DialUpFullDegrees() is not null)?.DialUpFullDegrees();

    /// <summary>A set was measured after the index was last touched and after the movement was rebuilt.</summary>
    public bool MeasuredSince(Instant? rebuilt) =>
        RateSets.Any(set => (IndexTouchedAt is not { } touched || set.At > touched) && (rebuilt is not { } then || set.At >= then));

    /// <summary>What managers have signed for an adjustment.</summary>
    public ImmutableArray<ToleranceException> ExceptionsOf(int adjustment) => [.. Exceptions.Where(one => one.Adjustment == adjustment)];

    public RateSet? Find(EventId id) => RateSets.FirstOrDefault(set => set.Id == id);

    // An amplitude without a lift angle is hearsay: there is nothing to recompute it by.
    private static RateSet Corrected(RateSet set, LiftAngleCorrected corrected) =>
        set.Told.LiftAngleDegrees is null ? set : set with { RightLiftAngleDegrees = corrected.LiftAngleDegrees };
}
