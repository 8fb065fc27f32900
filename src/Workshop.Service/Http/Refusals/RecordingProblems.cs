using System.Collections.Frozen;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Beats.Recordings;

namespace Workshop.Service.Http.Refusals;

/// <summary>What is wrong with the file of a recording: for each fault that the reader of files knows, a problem of the same code.</summary>
public static class RecordingProblems
{
    private static readonly (RecordingFault Fault, string Title, string Remedy)[] Rows =
    [
        (RecordingFault.Empty, "The recording is empty", "Look whether the recorder has written anything, and send the file again."),
        (RecordingFault.TooLarge, "The recording is too large", "Record in mono or with 24 bits; half a minute is enough."),
        (RecordingFault.NotWav, "This is no WAV file", "Save the recording as WAV, 16 or 24 bits, and send that."),
        (RecordingFault.UnsupportedEncoding, "The recording is not PCM", "Save it as WAV with PCM samples; what was compressed once stays inexact, so record anew."),
        (RecordingFault.BadFormat, "The recording describes its samples badly", "Save it with another program, or send it as it came from the recorder."),
        (RecordingFault.NoFormat, "The recording does not describe its samples", "Save it with another program, or send it as it came from the recorder."),
        (RecordingFault.NoData, "The recording holds no samples", "Look whether the recorder was stopped properly, and record anew."),
        (RecordingFault.BadChannels, "Neither one channel nor two", "Record in mono or in stereo."),
        (RecordingFault.BadSampleRate, "A sample rate that is not listened to", "Record at 44.1, 48 or 96 kHz."),
        (RecordingFault.BadBits, "A size of samples that is not listened to", "Record with 16 or 24 bits."),
        (RecordingFault.BadBlockAlign, "The recording contradicts itself", "Save it with another program, or send it as it came from the recorder."),
        (RecordingFault.Truncated, "The recording ends too early", "Send the file again; the bench still has it."),
        (RecordingFault.TooManyChunks, "The recording is in too many pieces", "Save it with another program as a plain WAV."),
        (RecordingFault.TooShort, "The recording is too short", "Record half a minute; five seconds are the least."),
        (RecordingFault.TooLong, "The recording is too long", "Record half a minute; sixty seconds are the most."),
        (RecordingFault.Silence, "Nothing is heard at all", "Look whether the microphone is plugged in and its level is up."),
        (RecordingFault.NonFiniteSamples, "The recording holds samples that are no numbers", "Save it with whole-number samples, 16 or 24 bits."),
    ];

    public static IReadOnlyList<ProblemKind> All { get; } = [.. Rows.Select(row => new ProblemKind(row.Fault.Code, row.Fault.Status, row.Title, row.Remedy))];

    private static readonly FrozenDictionary<string, ProblemKind> ByCode = All.ToFrozenDictionary(kind => kind.Code, StringComparer.Ordinal);

    public static ProblemHttpResult Of(RecordingFault fault) => Problems.Of(ByCode[fault.Code], fault.Sentence);
}
