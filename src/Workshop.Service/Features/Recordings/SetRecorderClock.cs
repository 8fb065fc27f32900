using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Journal;
using Workshop.Core.Sources;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

public sealed record RecorderClockBody
{
    /// <summary>By how much the recorder runs fast, in parts per million; negative where it is slow.</summary>
    [Range(-1000, 1000)]
    public required decimal Ppm { get; init; }

    /// <summary>Half width of a 95 % interval, in parts per million.</summary>
    [Range(0, 1000)]
    public required decimal UncertaintyPpm { get; init; }

    /// <summary>Today where left out.</summary>
    public LocalDate? MeasuredOn { get; init; }

    /// <summary>In a few words, for example by what it was compared.</summary>
    [StringLength(200, MinimumLength = 1)]
    public required string How { get; init; }
}

/// <summary>States how fast the clock of a device's recorder runs. Earlier calibrations stay; what was listened to keeps the one it was corrected by.</summary>
public static class SetRecorderClock
{
    public static async Task<Results<Done<RecorderClocksView>, ProblemHttpResult>> Handle(string id, JsonBody<RecorderClockBody> body, Caller caller, Writer writer, CancellationToken cancel)
    {
        if (Refused(id, caller) is { } refusal)
        {
            return refusal;
        }

        return await writer.Turn<Results<Done<RecorderClocksView>, ProblemHttpResult>>(
            caller.Site,
            turn =>
            {
                var today = turn.Rules.Calendar.DateOf(turn.Now);
                return body.Value.MeasuredOn > today
                    ? Problems.BadFields(new Fault("/measuredOn", $"Today is {today:uuuu-MM-dd}"))
                    : Answer.Done(Add(turn, id, new StoredClock
                    {
                        Saved = Microseconds.Of(turn.Now),
                        Ppm = (double)body.Value.Ppm,
                        UncertaintyPpm = (double)body.Value.UncertaintyPpm,
                        MeasuredOn = LocalDatePattern.Iso.Format(body.Value.MeasuredOn ?? today),
                        How = body.Value.How,
                        Source = caller.Source,
                    }));
            },
            cancel);
    }

    /// <summary>A device calibrates itself; the desk and managers any.</summary>
    internal static ProblemHttpResult? Refused(string id, Caller caller) =>
        !RecordingTold.IsDeviceName(id) ? Problems.Of(ProblemCatalogue.NoSuchThing, "There is no device of this name.")
        : caller.Role == Role.Bench && DeviceSource.NameOf(caller.Source) != id
            ? Problems.Of(ProblemCatalogue.SourceNotYours, $"This key speaks for '{caller.Source}', not for the device '{id}'.", ("source", caller.Source))
            : null;

    /// <summary>Adds a calibration, unless the newest says the same.</summary>
    internal static RecorderClocksView Add(Turn turn, string device, StoredClock clock)
    {
        var all = RecordingClocks.OfDevice(turn, device);
        if (all.FirstOrDefault() is { } newest && newest with { Saved = clock.Saved, Source = clock.Source } == clock)
        {
            return RecorderClocksView.Of(device, all);
        }

        // Two at one microsecond would be one row.
        RecordingClocks.Add(turn, device, clock with { Saved = Math.Max(clock.Saved, all.Select(one => one.Saved + 1).DefaultIfEmpty().Max()) });
        return RecorderClocksView.Of(device, RecordingClocks.OfDevice(turn, device));
    }
}

/// <summary>The clock of a device's recorder, with every calibration of it.</summary>
public static class ReadRecorderClock
{
    public static async Task<Results<Seen<RecorderClocksView>, ProblemHttpResult>> Handle(string id, Caller caller, Reader reader, CancellationToken cancel)
    {
        if (!RecordingTold.IsDeviceName(id))
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "There is no device of this name.");
        }

        var all = await reader.Read(connection => RecordingClocks.OfDevice(connection, caller.Site, id), cancel);
        return Answer.Seen(all.Length, RecorderClocksView.Of(id, all));
    }
}
