using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>
/// Listens to a recording anew: with the analyser as it is now, the calibre's lift angle as it is known now, and the newest calibration of the
/// clock. What is heard takes the place of what was heard before; a rate set that was made of it keeps its figures.
/// </summary>
public static class ListenAgain
{
    // Whoever asks looks for the answer where the recording is.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(8);

    public static async Task<Results<RecordingCame, ProblemHttpResult>> Handle(
        string label, string sha256, Caller caller, LanguageAsked language, Writer writer, Reader reader, ShopRulesSource rules, ListenToRecording listener, RecordingFiles files, CancellationToken cancel)
    {
        var (job, kept, refusal) = await ReadRecordings.Find(label, sha256, caller, reader, cancel);
        if (kept is null)
        {
            return refusal!;
        }

        if (files.Find(caller.Site, job, sha256) is null)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "The sound of this recording is no longer here; send it again to have it listened to.");
        }

        await writer.Turn(caller.Site, turn => { RecordingStore.Again(turn, job, sha256); return true; }, cancel);
        await Task.WhenAny(listener.Watch(listener.Listen(caller.Site, job, sha256)), Task.Delay(Patience, cancel));
        listener.Call();
        var inForce = await rules.Read(caller.Site, cancel);
        return new RecordingCame(RecordingView.Of(job, (await reader.Read(connection => RecordingStore.Find(connection, caller.Site, job, sha256), cancel))!, inForce, language.Best), now: false);
    }
}
