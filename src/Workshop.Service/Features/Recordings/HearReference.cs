using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime.Text;
using Workshop.Beats.Calibration;
using Workshop.Beats.Recordings;
using Workshop.Core.Journal;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>
/// Calibrates the clock of a device's recorder by a recording of a reference: pulses at a known spacing, such as one each second from a source
/// disciplined by radio or satellite. A line through their moments gives the clock, and its standard error the uncertainty.
/// </summary>
public static class HearReference
{
    private const decimal UsualInterval = 1;

    public static async Task<Results<Done<RecorderClocksView>, ProblemHttpResult>> Handle(
        string id, string sha256, string? intervalSeconds, string? sourceUncertaintyPpm, string? measuredOn, string? how,
        HttpRequest request, Caller caller, RecordingFiles files, ListenToRecording listener, Writer writer, CancellationToken cancel)
    {
        if (!HashName.Is(sha256))
        {
            return Problems.BadParameter("sha256", "A recording is named by the SHA-256 of its bytes: 64 hexadecimal digits, letters small");
        }

        if (SetRecorderClock.Refused(id, caller) is { } refusal)
        {
            return refusal;
        }

        if (!TryNumber(intervalSeconds, UsualInterval, out var interval) || (double)interval is < ReferencePulses.ShortestInterval or > ReferencePulses.LongestInterval)
        {
            return Problems.BadParameter(
                "intervalSeconds", string.Create(CultureInfo.InvariantCulture, $"Pulses lie {ReferencePulses.ShortestInterval} to {ReferencePulses.LongestInterval} seconds apart"));
        }

        if (!TryNumber(sourceUncertaintyPpm, 0, out var ofSource) || ofSource > 1000)
        {
            return Problems.BadParameter("sourceUncertaintyPpm", "This is no number of parts per million from 0 to 1000");
        }

        if (measuredOn is not null && !LocalDatePattern.Iso.Parse(measuredOn).Success)
        {
            return Problems.BadParameter("measuredOn", "This is no day, as 2026-03-02");
        }

        if (how is { Length: 0 or > 200 })
        {
            return Problems.BadParameter("how", "This is 1 to 200 characters");
        }

        var (recording, refused) = await Receive(sha256, request, files, listener, cancel);
        if (recording is null)
        {
            return refused!;
        }

        if (await Task.Run(() => ReferencePulses.Measure(recording, (double)interval), cancel) is not { } measured)
        {
            return Problems.Of(ProblemCatalogue.ReferenceNotHeard, string.Create(CultureInfo.InvariantCulture, $"No pulses every {interval} seconds are heard throughout this recording."));
        }

        return await writer.Turn<Results<Done<RecorderClocksView>, ProblemHttpResult>>(
            caller.Site,
            turn =>
            {
                var today = turn.Rules.Calendar.DateOf(turn.Now);
                var on = measuredOn is null ? today : LocalDatePattern.Iso.Parse(measuredOn).Value;
                return on > today ? Problems.BadParameter("measuredOn", $"Today is {today:uuuu-MM-dd}") : Answer.Done(SetRecorderClock.Add(turn, id, new StoredClock
                {
                    Saved = Microseconds.Of(turn.Now),
                    Ppb = StoredClock.Billionths(measured.Ppm),
                    UncertaintyPpb = StoredClock.Billionths(Math.Sqrt(measured.UncertaintyPpm * measured.UncertaintyPpm + (double)(ofSource * ofSource))),
                    MeasuredOn = LocalDatePattern.Iso.Format(on),
                    How = how ?? string.Create(CultureInfo.InvariantCulture, $"{measured.Pulses} pulses, {interval} s apart"),
                    Reference = sha256,
                    Measurement = JsonSerializer.Serialize(
                        new ReferenceMeasurementView(sha256, interval, measured.Pulses, HeardFigureView.Rounded(measured.ScatterMicroseconds, 1), ofSource), WorkshopJson.Stored),
                    Source = caller.Source,
                }));
            },
            cancel);
    }

    // Its bytes are not kept: what it says is, and it is of no watch.
    private static async Task<(Recording? Recording, ProblemHttpResult? Refusal)> Receive(string sha256, HttpRequest request, RecordingFiles files, ListenToRecording listener, CancellationToken cancel)
    {
        var (received, refusal) = await RecordingBody.Receive(sha256, request, files, cancel);
        using (received)
        {
            if (received is null)
            {
                return (null, refusal);
            }

            var (recording, fault) = await listener.Decode(received.Path, cancel);
            return (recording, fault is null ? null : RecordingProblems.Of(fault));
        }
    }

    private static bool TryNumber(string? text, decimal usual, out decimal number)
    {
        number = usual;
        return text is null || decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out number);
    }
}
