using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Beats.Listening;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Recordings;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

public sealed record RateSetOfRecordingsBody
{
    /// <summary>Recordings of this job by their names, one for each position.</summary>
    [Length(1, 6)]
    public required ImmutableArray<string> Recordings { get; init; }

    /// <summary>When it was measured; when the last of the recordings came, where left out.</summary>
    public Instant? At { get; init; }

    /// <summary>The least of what was told with the recordings, where left out.</summary>
    [Range(0, 10_000)]
    public decimal? HoursSinceFullWind { get; init; }

    /// <summary>The device by which was recorded, where left out.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string? Instrument { get; init; }

    [Range(0, 86_400)]
    public decimal? SettleSeconds { get; init; }

    /// <summary>The badge of whoever measured.</summary>
    [StringLength(60)]
    public string? Person { get; init; }

    /// <summary>Gates that somebody was asked about and goes on against.</summary>
    public ImmutableArray<string>? Despite { get; init; }
}

/// <summary>A figure that is less than good: carried into the set where it is fair, left out where it is unavailable.</summary>
/// <param name="Figure"><c>rate</c>, <c>amplitude</c> or <c>beat-error</c>.</param>
public sealed record WeakFigureView(string Sha256, Position Position, string Figure, Confidence Confidence, ImmutableArray<string> Reasons);

/// <summary>A rate set that was made of recordings.</summary>
/// <param name="Readings">As they stand in the set: rates to a hundredth of a second a day, amplitudes in whole degrees, beat errors to a hundredth of a millisecond.</param>
/// <param name="Uncalibrated">A recorder whose clock is not calibrated is among them: its rates may be off by the same for all.</param>
/// <param name="Weak">Every figure that is not good.</param>
public sealed record RateSetOfRecordingsView(
    EntryRef Event, string Href, WindState WindState, decimal? HoursSinceFullWind, decimal? LiftAngleDegrees, int? VibrationsPerHour, ImmutableArray<RateReadingView> Readings, bool Uncalibrated,
    ImmutableArray<WeakFigureView> Weak);

/// <summary>Several recordings, one for each position, become one rate set, through the door by which a bench tells one.</summary>
public static class MakeRateSet
{
    public static async Task<Once<Results<Made<RateSetOfRecordingsView>, ProblemHttpResult>>> Handle(string label, JsonBody<RateSetOfRecordingsBody> body, Once once, Caller caller, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Make(turn, job, body.Value, caller))
            : new Once<Results<Made<RateSetOfRecordingsView>, ProblemHttpResult>>(refusal);

    private static Results<Made<RateSetOfRecordingsView>, ProblemHttpResult> Make(Turn turn, Label label, RateSetOfRecordingsBody body, Caller caller)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        var found = body.Recordings.Select(name => HashName.Is(name) ? RecordingStore.Find(turn, label, name) : null).ToArray();
        if (Missing(body, found).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        RecordingForSet[] measured = [.. found.Select(one => new RecordingForSet(one!))];
        if (Refused(measured, history.Job, body) is { } refusal)
        {
            return refusal;
        }

        var told = SetOf(measured, body);
        if (EventFaults.Of(told).ToArray() is { Length: > 0 } wrong)
        {
            return Problems.BadFields([.. wrong]);
        }

        var at = body.At is { } said ? DeskCommand.Told(turn, said) : Microseconds.Read(measured.Max(one => one.Stored.Received));
        if (at > turn.Now)
        {
            return Problems.BadFields(new Fault("/at", "This is still to come"));
        }

        var decision = DeskCommand.Say(turn, history, caller, told, body.Person, body.Despite, at);
        if (decision.Outcome == Outcome.Refused)
        {
            return TypedResults.Problem(DeskCommand.Refusal(decision));
        }

        // Beside a later rebuild it may be noted alone; what was measured is shown all the same.
        var id = decision.Entries.Select(written => written.Entry).First(entry => entry.Event is RateSetRecorded).Id;
        var set = decision.Job.Timekeeping.Find(id) ?? new RateSet(id, at, told, RateSetFigures.Of(told.Readings)!);
        return Answer.Made($"/v1/jobs/{label}/rate-sets", decision.Job.Version, new RateSetOfRecordingsView(
            EntryRef.Of(set.Id), $"/v1/jobs/{label}/rate-sets", told.WindState!.Value, told.HoursSinceFullWind, told.LiftAngleDegrees, told.VibrationsPerHour, RateReadingView.Of(set),
            measured.Any(one => one.Heard!.Clock is null), [.. measured.SelectMany(one => one.Weak())]));
    }

    private static IEnumerable<Fault> Missing(RateSetOfRecordingsBody body, StoredRecording?[] found)
    {
        var positions = new HashSet<Position>();
        foreach (var (i, one) in found.Index())
        {
            if (one is null)
            {
                yield return new Fault($"/recordings/{i}", "This recording has not come yet, or belongs to another job");
            }
            else if (!positions.Add(one.ReadTold().Position))
            {
                yield return new Fault($"/recordings/{i}", $"The position {Word.Of(one.ReadTold().Position)} is there twice: say which of the two counts");
            }
        }
    }

    private static ProblemHttpResult? Refused(RecordingForSet[] measured, Job job, RateSetOfRecordingsBody body)
    {
        if (measured.Where(one => one.Stored.StateRead == RecordingState.Waiting).Select(one => one.Stored.Sha256).ToArray() is { Length: > 0 } waiting)
        {
            return Problems.Of(ProblemCatalogue.RecordingWaits, "Some of these recordings were not listened to yet.", ("recordings", waiting));
        }

        if (measured.Where(one => !one.HasRate).Select(one => new { one.Stored.Sha256, Position = Word.Of(one.Told.Position), one.Why }).ToArray() is { Length: > 0 } low)
        {
            return Problems.Of(ProblemCatalogue.RecordingNotHeard, "Some of these recordings say nothing of the rate.", ("recordings", low));
        }

        (string What, bool Differs)[] looked =
        [
            ("windState", measured.DistinctBy(one => one.Told.WindState).Count() > 1),
            ("liftAngleDegrees", measured.DistinctBy(one => one.Heard!.Reading.Parameters.LiftAngleDegrees).Count() > 1),
            ("vibrationsPerHour", measured.DistinctBy(one => one.Heard!.Reading.VibrationsPerHour).Count() > 1),
            ("chronographRunning", measured.DistinctBy(one => one.Told.ChronographRunning ?? false).Count() > 1),
            ("cased", measured.Select(one => one.Told.Cased).OfType<bool>().Distinct().Count() > 1),

            // Some before the index was touched and some after are of two watches.
            ("adjustment", body.At is null && job.Timekeeping.IndexTouchedAt is { } touched
                && measured.Select(one => Microseconds.Read(one.Stored.Received) > touched).Distinct().Count() > 1),
        ];
        var differs = looked.Where(one => one.Differs).Select(one => one.What).ToArray();
        return differs.Length > 0 ? Problems.Of(ProblemCatalogue.RecordingsDiffer, $"These recordings differ in {string.Join(", ", differs)}.", ("differs", differs)) : null;
    }

    private static RateSetRecorded SetOf(RecordingForSet[] measured, RateSetOfRecordingsBody body) => new()
    {
        WindState = measured[0].Told.WindState,
        HoursSinceFullWind = body.HoursSinceFullWind ?? measured.Min(one => one.Told.HoursSinceFullWind),
        LiftAngleDegrees = HeardFigureView.Rounded(measured[0].Heard!.Reading.Parameters.LiftAngleDegrees, 2),
        VibrationsPerHour = measured[0].Heard!.Reading.VibrationsPerHour,
        Readings = [.. measured.Select(one => one.Carried())],
        ChronographRunning = measured.Select(one => one.Told.ChronographRunning).OfType<bool>().Any(running => running) ? true : measured[0].Told.ChronographRunning,
        Cased = measured.Select(one => one.Told.Cased).FirstOrDefault(cased => cased is not null),
        Instrument = body.Instrument ?? (measured.Select(one => one.Told.Device).Distinct().ToArray() is [{ } device] ? device : null),
        SettleSeconds = body.SettleSeconds,
        SampleSeconds = HeardFigureView.Rounded(measured.Min(one => one.Stored.Seconds), 1),
        Recordings = [.. measured.Select(one => one.Stored.Sha256)],
    };
}

/// <summary>A recording as a set takes it up.</summary>
internal sealed class RecordingForSet(StoredRecording stored)
{
    public StoredRecording Stored => stored;

    public RecordingTold Told { get; } = stored.ReadTold();

    public HeardRecording? Heard { get; } = stored.ReadHeard();

    public bool HasRate => Heard?.Reading is { Class: ReadingClass.Ok, RatePerDaySeconds: { Value: not null, Confidence: not Confidence.Unavailable } };

    /// <summary>Why it says nothing of the rate, as a code.</summary>
    public string? Why => Heard?.Reading.Code ?? Heard?.Reading.RatePerDaySeconds.Reasons.FirstOrDefault() ?? stored.Failure;

    public RateReading Carried()
    {
        var reading = Heard!.Reading;
        return new RateReading(
            Told.Position,
            HeardFigureView.Rounded(reading.RatePerDaySeconds.Value, 2)!.Value,
            HeardFigureView.Rounded(reading.AmplitudeDegrees.Value, 0),
            HeardFigureView.Rounded(reading.BeatErrorMilliseconds.Value, 2),
            Told.ToldPosition);
    }

    public IEnumerable<WeakFigureView> Weak() => new[] { ("rate", Heard!.Reading.RatePerDaySeconds), ("amplitude", Heard.Reading.AmplitudeDegrees), ("beat-error", Heard.Reading.BeatErrorMilliseconds) }
        .Where(one => one.Item2.Confidence != Confidence.Good)
        .Select(one => new WeakFigureView(stored.Sha256, Told.Position, one.Item1, one.Item2.Confidence, [.. one.Item2.Reasons]));
}
