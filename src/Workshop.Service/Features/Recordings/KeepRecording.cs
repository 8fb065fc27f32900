using System.Reflection;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Recordings;
using Workshop.Core.Shop;
using Workshop.Core.Sources;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>201 where it came now, 200 where it was here already, 202 where it is still to be listened to.</summary>
public sealed class RecordingCame(RecordingView recording, bool now) : IResult, IEndpointMetadataProvider
{
    /// <summary>Seconds after which it is worth looking again.</summary>
    private const string LookAgainAfter = "2";

    public Task ExecuteAsync(HttpContext context)
    {
        var response = context.Response;
        var waits = recording.State == RecordingState.Waiting;
        response.StatusCode = waits ? StatusCodes.Status202Accepted : now ? StatusCodes.Status201Created : StatusCodes.Status200OK;
        if (waits || now)
        {
            response.Headers.Location = recording.Href;
        }

        if (waits)
        {
            response.Headers.RetryAfter = LookAgainAfter;
        }

        return response.WriteAsJsonAsync(recording, WorkshopJson.Options, AnswerText.Json, context.RequestAborted);
    }

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder)
    {
        foreach (var status in new[] { StatusCodes.Status201Created, StatusCodes.Status200OK, StatusCodes.Status202Accepted })
        {
            builder.Metadata.Add(new ProducesResponseTypeMetadata(status, typeof(RecordingView), [AnswerText.Json]));
        }
    }
}

/// <summary>
/// Keeps a recording of a job and listens to it. It is named by the hash of its bytes, so that the same again is the same, and kept byte for
/// byte: first the file, then the row. What cannot be read is refused and not kept; a short one is listened to at once.
/// </summary>
public sealed class KeepRecording(
    RecordingFiles files, ListenToRecording listener, Writer writer, Reader reader, ShopRulesSource rules, IClock clock)
{
    /// <summary>Samples of all channels up to which a recording is answered at once: a minute at 48 kHz in stereo.</summary>
    private const double AtOnceSamples = 60.0 * 48_000 * 2;

    // Where others are before it, nobody waits for longer with an open line.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(8);

    public static async Task<Results<RecordingCame, ProblemHttpResult>> Handle(
        string label, string sha256, string? position, string? windState, string? hoursSinceFullWind, string? liftAngleDegrees, string? device, string? chronographRunning, string? cased,
        HttpRequest request, Caller caller, LanguageAsked language, KeepRecording keeper, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (!HashName.Is(sha256))
        {
            return Problems.BadParameter("sha256", "A recording is named by the SHA-256 of its bytes: 64 hexadecimal digits, letters small");
        }

        var asked = new RecordingAsked(position, windState, hoursSinceFullWind, liftAngleDegrees, device, chronographRunning, cased);
        return await keeper.Keep(job, sha256, asked, request, caller, language.Best, cancel);
    }

    private async Task<Results<RecordingCame, ProblemHttpResult>> Keep(
        Label job, string sha256, RecordingAsked asked, HttpRequest request, Caller caller, Language language, CancellationToken cancel)
    {
        // Before forty megabytes are read it is known whether there is anything to keep them for.
        var inForce = await rules.Read(caller.Site, cancel);
        var (told, refusal) = await reader.Read(connection =>
        {
            if (Reader.Entries(connection, caller.Site, job) is not { IsEmpty: false } entries)
            {
                return (null, PathLabel.NoJob());
            }

            var calibre = CalibreOfJob.Find(connection, caller.Site, Job.Replay(job, entries), inForce);
            return Told(asked, caller, calibre, inForce);
        }, cancel);
        if (told is null)
        {
            return refusal!;
        }

        var (received, refused) = await RecordingBody.Receive(sha256, request, files, cancel);
        using (received)
        {
            return received is null ? refused! : await Keep(job, received, told, caller, language, cancel);
        }
    }

    private static (RecordingTold? Told, ProblemHttpResult? Refusal) Told(RecordingAsked asked, Caller caller, CalibreOfJob calibre, ShopRules rules)
    {
        var (aliases, crownHour) = (rules.Timekeeping.PositionAliases, calibre.CrownHour ?? ControlPosition.UsualCrownHour);
        var told = RecordingTold.Read(
            asked, DeviceSource.NameOf(caller.Source), word => PositionWords.Read(word, aliases, crownHour)?.Position, () => string.Join(", ", PositionWords.Known(aliases)), out var refusal);
        return told is not null && ListeningTerms.Of(calibre, told, _ => null) is null
            ? (null, Problems.BadParameter("liftAngleDegrees", "The lift angle of this watch's calibre is not known here: give it with the recording"))
            : (told, refusal);
    }

    private async Task<Results<RecordingCame, ProblemHttpResult>> Keep(Label job, ReceivedFile received, RecordingTold told, Caller caller, Language language, CancellationToken cancel)
    {
        var text = JsonSerializer.Serialize(told, WorkshopJson.Stored);
        var known = await reader.Read(connection => RecordingStore.Find(connection, caller.Site, job, received.Sha256), cancel);
        if (known?.Told == text && files.Find(caller.Site, job, received.Sha256) is not null)
        {
            if (known.StateRead == RecordingState.Waiting && IsShort(known.Seconds, known.SampleRate, known.Channels))
            {
                await WaitFor(listener.Listen(caller.Site, job, received.Sha256), cancel);
            }

            return await Answer(job, received.Sha256, now: false, caller, language, cancel);
        }

        var (recording, fault) = await listener.Decode(received.Path, cancel);
        if (recording is null)
        {
            return RecordingProblems.Of(fault!);
        }

        files.Keep(received, caller.Site, job);
        var row = new StoredRecording
        {
            Sha256 = received.Sha256,
            Bytes = received.Bytes,
            Frames = (long)Math.Round(recording.Seconds * recording.SampleRate),
            SampleRate = recording.SampleRate,
            Bits = recording.Bits,
            Channels = recording.Channels,
            Told = text,
            State = Word.Of(RecordingState.Waiting),
            Tries = 0,
            Received = Microseconds.Of(clock.GetCurrentInstant()),
            Source = caller.Source,
        };
        var isNew = await writer.Turn(
            caller.Site,
            turn =>
            {
                // Somebody may have sent the same meanwhile; what is told of it last counts.
                var first = RecordingStore.Find(turn, job, row.Sha256);
                if (first is null || first.Told != text || first.Removed is not null || first.Failure == Word.Of(ListeningFailure.FileGone))
                {
                    RecordingStore.Put(turn, job, row);
                }

                return first is null;
            },
            cancel);
        if (IsShort(recording.Seconds, recording.SampleRate, recording.Channels))
        {
            // Where others are before it, it is decoded anew when its turn comes: of what waits nothing is held but its file.
            var listening = listener.Listen(caller.Site, job, row.Sha256, listener.HasRoom ? recording : null);
            recording = null;
            await WaitFor(listening, cancel);
        }

        listener.Call();
        return await Answer(job, row.Sha256, isNew, caller, language, cancel);
    }

    private static bool IsShort(double seconds, double sampleRate, double channels) => seconds * sampleRate * channels <= AtOnceSamples;

    // Whoever hangs up has it listened to all the same.
    private Task WaitFor(Task listening, CancellationToken cancel) => Task.WhenAny(listener.Watch(listening), Task.Delay(Patience, cancel));

    private async Task<Results<RecordingCame, ProblemHttpResult>> Answer(Label job, string sha256, bool now, Caller caller, Language language, CancellationToken cancel)
    {
        var inForce = await rules.Read(caller.Site, cancel);
        return await reader.Read(connection => RecordingStore.Find(connection, caller.Site, job, sha256), cancel) is { } kept
            ? new RecordingCame(RecordingView.Of(job, kept, inForce, language), now)
            : PathLabel.NoJob();
    }
}
