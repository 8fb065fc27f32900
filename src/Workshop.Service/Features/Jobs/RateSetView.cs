using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Timekeeping;
using Workshop.Core.Timekeeping.Quantities;
using Workshop.Core.Words;

namespace Workshop.Service.Features.Jobs;

/// <summary>One position of a rate set.</summary>
/// <param name="Symbol">By ISO 3158, for where the crown of this watch sits.</param>
/// <param name="ToldPosition">Word for word, where it was told by a symbol or a word of the shop's own.</param>
/// <param name="RatePerDaySeconds">Seconds gained per day of true time.</param>
/// <param name="AmplitudeDegrees">Degrees at the set's lift angle; recomputed in proportion and to one decimal where that was corrected.</param>
/// <param name="AmplitudeAsReadDegrees">As it was read, where the lift angle was corrected since.</param>
/// <param name="BeatErrorMilliseconds">Half the difference between two beats that follow one another; others name the whole difference, twice as much.</param>
/// <param name="RestOffsetDegrees">How far out of the middle the balance rests, to one decimal; from beat error, amplitude and vibrations.</param>
public sealed record RateReadingView(
    Position Position, string Symbol, string? ToldPosition, decimal RatePerDaySeconds, decimal? AmplitudeDegrees, decimal? AmplitudeAsReadDegrees, decimal? BeatErrorMilliseconds,
    decimal? RestOffsetDegrees)
{
    public static ImmutableArray<RateReadingView> Of(RateSet set)
    {
        var crownHour = set.Terms?.CrownHourTaken() ?? ControlPosition.UsualCrownHour;
        var corrected = set.RightLiftAngleDegrees is not null;
        return [.. set.Readings.Select(one => new RateReadingView(
            one.Position, ControlPosition.SymbolOf(one.Position, crownHour), one.ToldPosition, one.RatePerDaySeconds,
            corrected && one.AmplitudeDegrees is { } recomputed ? Rounded(recomputed) : one.AmplitudeDegrees,
            corrected ? set.Told.Readings.Last(told => told.Position == one.Position).AmplitudeDegrees : null,
            one.BeatErrorMilliseconds,
            one is { AmplitudeDegrees: { } amplitude, BeatErrorMilliseconds: { } error } && set.Told.VibrationsPerHour is { } vibrations
                ? Rounded((decimal)new Amplitude(amplitude).RestOffsetDegrees(new Vibrations(vibrations), new BeatError(error)))
                : null))];
    }

    private static decimal Rounded(decimal figure) => Math.Round(figure, 1, MidpointRounding.AwayFromZero);
}

/// <summary>An odd figure, which is asked back; the set is kept as it was told.</summary>
/// <param name="Figure">In the unit of its kind.</param>
/// <param name="Limit">What it was compared with.</param>
/// <param name="Asks">False: shown only.</param>
/// <param name="Words">In the caller's language.</param>
public sealed record RateDoubtView(RateDoubtKind Doubt, Position? At, decimal? Figure, decimal? Limit, bool Asks, string Words)
{
    public static RateDoubtView Of(RateDoubt doubt, Language language) => new(
        doubt.Kind, doubt.At, doubt.Figure is { } figure ? Math.Round(figure, 2, MidpointRounding.AwayFromZero) : null, doubt.Limit, doubt.Asks, doubt.Line().In(language));
}

/// <summary>One criterion of a tolerance. Judged unrounded, limits inclusive; shown to two decimals.</summary>
/// <param name="Unit">s/d, deg or ms.</param>
/// <param name="Figure">The figure nearest to its limit; absent where nothing was measured.</param>
/// <param name="Margin">From the figure to the nearest limit: zero on it, negative outside.</param>
/// <param name="At">The worst position, where it is one position's figure.</param>
/// <param name="Excepted">It fails, and a manager has signed that this watch may miss it.</param>
/// <param name="Words">The criterion's name in the caller's language.</param>
public sealed record RateCriterionView(
    CriterionKind Criterion, string Unit, decimal? Figure, decimal? Least, decimal? Most, decimal? Margin, CriterionOutcome Outcome, Position? At, bool Excepted, string Words);

/// <summary>A criterion that a manager lets this watch miss, until the index is touched or the movement rebuilt.</summary>
public sealed record RateExceptionView(EntryRef Event, CriterionKind Criterion, string Reason, string? Person, Instant At);

/// <summary>A set against its tolerance.</summary>
/// <param name="Outcome">incomplete: a required position was not measured, and then nothing passes, whoever signs.</param>
/// <param name="Tolerance">The tolerance used, by its name in the rules.</param>
/// <param name="ByAgreement">Limits of this kind are usually agreed with the customer, watch by watch.</param>
/// <param name="Running">By the limits of a chronograph that runs.</param>
/// <param name="ComparedWith">The set that differences were taken to: the last full one of the same positions and adjustment, or the same with the chronograph stopped.</param>
/// <param name="Words">In the caller's language.</param>
public sealed record RateVerdictView(
    RateOutcome Outcome, string Tolerance, bool ByAgreement, bool Running, ImmutableArray<RateCriterionView> Criteria, ImmutableArray<RateExceptionView> Exceptions, EntryRef? ComparedWith,
    ImmutableArray<string> Words)
{
    public static RateVerdictView Of(RateVerdict verdict, Language language) => new(
        verdict.Outcome, verdict.Tolerance.Kind, verdict.Tolerance.ByAgreement == true, verdict.Running,
        [.. verdict.Criteria.Select(one => new RateCriterionView(
            one.Kind, VerdictWords.UnitOf(one.Kind), Rounded(one.Figure), one.Least, one.Most, Rounded(one.Margin), one.Outcome, one.At,
            one.Outcome == CriterionOutcome.Fails && verdict.Excepted.Any(signed => signed.Criterion == one.Kind), WordLists.Of(one.Kind, language)))],
        [.. verdict.Excepted.Select(one => new RateExceptionView(EntryRef.Of(one.Id), one.Criterion, one.Reason, one.Person, one.At))],
        verdict.ComparedWith is { } other ? EntryRef.Of(other.Id) : null,
        [.. VerdictWords.Of(verdict).Select(words => words.In(language))]);

    private static decimal? Rounded(decimal? figure) => figure is { } known ? Math.Round(known, 2, MidpointRounding.AwayFromZero) : null;
}

/// <summary>A set of rates in several positions; seconds gained per day of true time, degrees at the set's lift angle.</summary>
/// <param name="LiftAngleDegrees">The one that counts.</param>
/// <param name="LiftAngleAsToldDegrees">What was told, where it was corrected since.</param>
/// <param name="MeanPerDaySeconds">Plain average over the positions, to one decimal.</param>
/// <param name="SpreadPerDaySeconds">Highest rate minus lowest, to one decimal.</param>
/// <param name="FlatMeanPerDaySeconds">Plain average over dial up and dial down, to one decimal; absent where neither was measured.</param>
/// <param name="VerticalMeanPerDaySeconds">Plain average over the upright positions, to one decimal; absent where none was measured.</param>
/// <param name="MeanAmplitudeDegrees">Plain average over the positions, to one decimal; absent where none was measured.</param>
/// <param name="Complete">Every position that the tolerance requires is there.</param>
/// <param name="MissingPositions">Those that are not: without them the set cannot pass.</param>
/// <param name="CrownHour">Where the crown sits, 1 to 12; symbols go by it.</param>
/// <param name="CrownAssumed">Nobody has said where: three is assumed.</param>
/// <param name="Doubts">Odd figures; asked back, never changed.</param>
/// <param name="Verdict">Absent where no wind state, or neither full wind nor a day after it, says by which limits; and where the tolerance has none for a chronograph that runs.</param>
/// <param name="Pattern">Absent with fewer than three vertical positions, and of a quartz watch, which has no balance.</param>
/// <param name="Predicted">Absent where no hour of the shop's wear profile lies in a position that was measured.</param>
/// <param name="Recordings">What it was read from, where it names any.</param>
public sealed record RateSetView(
    EntryRef Event, Instant At, string? Person, string? Bench, WindState? WindState, decimal? HoursSinceFullWind, decimal? LiftAngleDegrees, decimal? LiftAngleAsToldDegrees, int? VibrationsPerHour,
    bool? ChronographRunning, bool? Cased, string? Instrument, decimal? SettleSeconds, decimal? SampleSeconds, ImmutableArray<RateReadingView> Readings, decimal MeanPerDaySeconds,
    decimal SpreadPerDaySeconds, decimal? FlatMeanPerDaySeconds, decimal? VerticalMeanPerDaySeconds, decimal? MeanAmplitudeDegrees, bool Complete, ImmutableArray<Position> MissingPositions,
    int CrownHour, bool CrownAssumed, ImmutableArray<RateDoubtView> Doubts, RateVerdictView? Verdict, PatternView? Pattern, PredictedView? Predicted,
    ImmutableArray<RecordingRef>? Recordings);

/// <summary>A recording that a set names.</summary>
/// <param name="Awaited">It has not come yet.</param>
/// <param name="Href">Where it is, or will be.</param>
public sealed record RecordingRef(string Sha256, bool Awaited, string Href);
