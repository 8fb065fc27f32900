using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Net.Http.Headers;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>The recordings of a job: what was heard, or the sound itself.</summary>
public static class ReadRecordings
{
    public const string Wav = "audio/wav";

    /// <summary>In the order in which they came.</summary>
    public static async Task<Results<Paged<RecordingView>, ProblemHttpResult>> All(
        string label, Page page, Caller caller, LanguageAsked language, Reader reader, ShopRulesSource rules, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        var inForce = await rules.Read(caller.Site, cancel);
        var (exists, all) = await reader.Read(connection => (!Reader.Entries(connection, caller.Site, job).IsEmpty, RecordingStore.OfJob(connection, caller.Site, job)), cancel);
        if (!exists)
        {
            return PathLabel.NoJob();
        }

        string[] Key(StoredRecording one) => [one.Received.ToString("D20", CultureInfo.InvariantCulture), one.Sha256];
        StoredRecording[] rest = page.After is [var received, var sha256]
            ? [.. all.SkipWhile(one => string.CompareOrdinal(string.Concat(Key(one)), received + sha256) <= 0)]
            : [.. all];
        return page.Mapped([.. rest.Take(page.Limit + 1)], one => RecordingView.Of(job, one, inForce, language.Best), Key);
    }

    /// <summary>What was heard; the sound itself where the asker takes that alone.</summary>
    public static async Task<Results<Seen<RecordingView>, PhysicalFileHttpResult, ProblemHttpResult>> One(
        string label, string sha256, HttpRequest request, HttpResponse response, Caller caller, LanguageAsked language, Reader reader, ShopRulesSource rules, RecordingFiles files, CancellationToken cancel)
    {
        var (job, kept, refusal) = await Find(label, sha256, caller, reader, cancel);
        if (kept is null)
        {
            return refusal!;
        }

        response.Headers.Append(HeaderNames.Vary, HeaderNames.Accept);
        if (TakesSound(request))
        {
            return Sound(job, kept, response, caller, files) is { } sound ? sound : Gone();
        }

        return Answer.Seen(kept.Listened ?? 0, RecordingView.Of(job, kept, await rules.Read(caller.Site, cancel), language.Best));
    }

    /// <summary>The bytes as they were sent.</summary>
    public static async Task<Results<PhysicalFileHttpResult, ProblemHttpResult>> Bytes(
        string label, string sha256, HttpResponse response, Caller caller, Reader reader, RecordingFiles files, CancellationToken cancel)
    {
        var (job, kept, refusal) = await Find(label, sha256, caller, reader, cancel);
        return kept is null ? refusal! : Sound(job, kept, response, caller, files) is { } sound ? sound : Gone();
    }

    internal static async Task<(Label Job, StoredRecording? Kept, ProblemHttpResult? Refusal)> Find(string label, string sha256, Caller caller, Reader reader, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return (job, null, refusal);
        }

        var kept = HashName.Is(sha256) ? await reader.Read(connection => RecordingStore.Find(connection, caller.Site, job, sha256), cancel) : null;
        return (job, kept, kept is null ? NoRecording() : null);
    }

    internal static ProblemHttpResult NoRecording() => Problems.Of(ProblemCatalogue.NoSuchThing, "This recording has not come yet, or belongs to another job.");

    private static ProblemHttpResult Gone() => Problems.Of(ProblemCatalogue.NoSuchThing, "The sound of this recording is no longer here; what was heard in it is.");

    private static bool TakesSound(HttpRequest request) =>
        request.GetTypedHeaders().Accept is { Count: > 0 } accepted && accepted.MaxBy(one => one.Quality ?? 1) is { } best && best.Type.Equals("audio", StringComparison.OrdinalIgnoreCase);

    private static PhysicalFileHttpResult? Sound(Label job, StoredRecording kept, HttpResponse response, Caller caller, RecordingFiles files)
    {
        if (files.Find(caller.Site, job, kept.Sha256) is not { } path)
        {
            return null;
        }

        // What a name leads to never changes; a shared cache keeps no customer's things all the same.
        response.Headers.CacheControl = "private, no-cache";
        return TypedResults.PhysicalFile(Path.GetFullPath(path), Wav, entityTag: new EntityTagHeaderValue($"\"{kept.Sha256}\""));
    }
}
