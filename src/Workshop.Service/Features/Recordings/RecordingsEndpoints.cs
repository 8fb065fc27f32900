using Microsoft.AspNetCore.Mvc;
using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Prints;
using Workshop.Service.Settings;

namespace Workshop.Service.Features.Recordings;

public static class RecordingsEndpoints
{
    // Whoever sends somewhat too much is heard out, so that they read why it was refused instead of losing the line: a minute in floating point
    // and stereo at 96 kHz is 4 MB beyond the usual limit.
    private const int BytesHeardOut = 8 * 1024 * 1024;

    private const string Limits =
        "Judged by synthetic recordings alone, whose truth is known. They cannot prove how far the amplitude of a real watch is off: unlocking and drop lie exactly at the edges of the lift there, "
        + "the balance swings evenly, and neither microphone nor case rings. The rate rests on nothing but moments and the recorder's clock; its interval does not hold the clock where that is not calibrated.";

    public static void MapRecordings(this IEndpointRouteBuilder routes)
    {
        var settings = routes.ServiceProvider.GetRequiredService<RecordingSettings>();
        var job = routes.MapGroup("/v1/jobs/{label}/recordings").WithTags("Recordings");
        job.MapPut("{sha256}", KeepRecording.Handle)
            .WithName("keepRecording")
            .WithSummary("Keep a recording of a watch, named by the SHA-256 of its bytes, and listen to it: WAV with PCM samples, 5 to 60 seconds")
            .WithDescription($"The body is the file, whatever its media type says; how the watch lay and was wound goes in the address. Up to a minute at 48 kHz in stereo it is listened to at once, longer ones are answered with 202 and their Location. "
                + $"The same again is the same answer; the same bytes with another position, winding or lift angle are told anew and listened to anew. The lift angle is the calibre's where it is left out. {Limits}")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.HashDiffers)
            .WithProblems([.. RecordingProblems.All])
            .WithMetadata(new RequestSizeLimitAttribute(settings.BytesAtMost + BytesHeardOut))
            .Accepts<object>(ReadRecordings.Wav, "application/octet-stream")
            .RequireOperation(Operation.KeepRecordings);
        job.MapGet("", ReadRecordings.All)
            .WithName("readRecordings")
            .WithSummary("Every recording of a job, in the order in which they came, with what was heard")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadRecordings);
        job.MapGet("{sha256}", ReadRecordings.One)
            .WithName("readRecording")
            .WithSummary("What was heard in a recording; with Accept: audio/wav the sound itself")
            .WithDescription(Limits)
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadRecordings);
        job.MapGet("{sha256}.wav", ReadRecordings.Bytes)
            .WithName("readSound")
            .WithSummary("The sound of a recording, byte for byte as it was sent; its ETag is its hash")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .Produces(StatusCodes.Status200OK, contentType: ReadRecordings.Wav)
            .RequireOperation(Operation.ReadRecordings);
        job.MapGet("{sha256}.svg", DrawRecording.Svg)
            .WithName("drawRecording")
            .WithSummary("What a reading rests on, drawn: its stretches down the sheet with their intervals, and the mean beat with the picked moments")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.RecordingWaits, ProblemCatalogue.BadFields)
            .Produces(StatusCodes.Status200OK, contentType: Print.SvgType)
            .RequireOperation(Operation.ReadRecordings);
        job.MapGet("{sha256}.png", DrawRecording.Png)
            .WithName("drawRecordingAsPicture")
            .WithSummary("The same drawing as a picture, for paper")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.RecordingWaits, ProblemCatalogue.BadFields)
            .Produces(StatusCodes.Status200OK, contentType: Print.PngType)
            .RequireOperation(Operation.ReadRecordings);
        job.MapPost("{sha256}/listen", ListenAgain.Handle)
            .WithName("listenAgain")
            .WithSummary("Listen to a recording anew, as after a corrected lift angle, a new calibration of the clock or a newer analyser")
            .WithDescription("What is heard takes the place of what was heard before; a rate set that was made of it keeps its figures. Sent again it listens again, and does no harm.")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.KeepRecordings);
        routes.MapPost("/v1/jobs/{label}/rate-sets/from-recordings", MakeRateSet.Handle)
            .WithTags("Recordings")
            .WithName("makeRateSet")
            .WithSummary("Make one rate set of several recordings, one for each position")
            .WithDescription("Goes the way of a bench's rate-set.recorded. Figures that are good or fair are carried, what is fair or missing is named; two recordings of one position, of two windings, lift angles or frequencies make no set.")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.RecordingWaits, ProblemCatalogue.RecordingNotHeard, ProblemCatalogue.RecordingsDiffer)
            .WithExample("""{ "recordings": ["9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08", "2c26b46b68ffc68ff99b453c1d30413413422d706483bfa0f98a5e886266e7ae"], "settleSeconds": 30, "person": "mara" }""")
            .RequireOperation(Operation.MakeRateSets);

        var clock = routes.MapGroup("/v1/devices/{id}/recording-clock").WithTags("Recordings");
        clock.MapGet("", ReadRecorderClock.Handle)
            .WithName("readRecorderClock")
            .WithSummary("By how much the clock of a device's recorder runs fast, and every earlier calibration")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadRecordings);
        clock.MapPut("", SetRecorderClock.Handle)
            .WithName("setRecorderClock")
            .WithSummary("State by how much the clock of a device's recorder runs fast, in parts per million")
            .WithDescription("Positive: it runs fast, and a watch looks slow by 0.0864 seconds a day for each part per million. Earlier ones stay; what was listened to keeps its own until it is listened to again. A bench states its own alone.")
            .WithProblems(ProblemCatalogue.NoSuchThing, ProblemCatalogue.SourceNotYours)
            .WithExample("""{ "ppm": 12, "uncertaintyPpm": 5, "measuredOn": "2025-02-01", "how": "against the radio clock over a night" }""")
            .RequireOperation(Operation.SetRecordingClocks);
        clock.MapPut("reference/{sha256}", HearReference.Handle)
            .WithName("hearReference")
            .WithSummary("Calibrate the clock of a device's recorder by a recording of even pulses, such as one each second")
            .WithDescription("The body is the recording, named by the SHA-256 of its bytes. A line through the moments of the pulses gives the clock, its standard error the uncertainty; what is known of the source's own spacing comes on top by sourceUncertaintyPpm. The bytes are not kept.")
            .WithProblems(ProblemCatalogue.NoSuchThing, ProblemCatalogue.SourceNotYours, ProblemCatalogue.HashDiffers, ProblemCatalogue.ReferenceNotHeard)
            .WithProblems([.. RecordingProblems.All])
            .WithMetadata(new RequestSizeLimitAttribute(settings.BytesAtMost))
            .Accepts<object>(ReadRecordings.Wav, "application/octet-stream")
            .RequireOperation(Operation.SetRecordingClocks);
    }
}
