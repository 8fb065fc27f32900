using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>
/// Removes the sound of recordings whose time is over: their job is closed, and was so long before that the shop does not keep them. What was
/// heard in them stays. A job that is open keeps every file, so that no rate set of it loses what it rests on.
/// </summary>
public sealed class RemoveOldRecordings(RecordingFiles files, Writer writer)
{
    private const int AtOnce = 200;

    // A file that is a day old was received by a service that is no more.
    private static readonly Duration UnfinishedFor = Duration.FromDays(1);

    /// <returns>How many.</returns>
    public async Task<int> Run(string site, Instant realNow, CancellationToken cancel)
    {
        files.RemoveUnfinished(realNow - UnfinishedFor);
        var due = await writer.Turn(site, Due, cancel);

        // The file first: a row that says it is gone is right whenever the service ends in between.
        foreach (var one in due)
        {
            files.Remove(site, Label.Read(one.Job), one.Sha256);
        }

        foreach (var some in due.Chunk(AtOnce))
        {
            await writer.Turn(site, turn => { Mark(turn, some); return true; }, cancel);
        }

        return due.Count;
    }

    private static List<RecordingKey> Due(Turn turn)
    {
        var before = turn.Now - Duration.FromDays(turn.Rules.Recordings.FilesKeptDays);
        var due = new List<RecordingKey>();
        var ended = new Dictionary<string, bool>(StringComparer.Ordinal);
        for (var seen = 0; RecordingStore.Old(turn, Microseconds.Of(before), AtOnce, seen) is { IsEmpty: false } some; seen += some.Length)
        {
            due.AddRange(some.Where(one => ended.TryGetValue(one.Job, out var known) ? known : ended[one.Job] = EndedBefore(turn, Label.Read(one.Job), before)));
        }

        return due;
    }

    private static bool EndedBefore(Turn turn, Label label, Instant before) =>
        turn.History(label)?.Job.Standings.Of(Stage.Closed) is { State: StageState.Done, Since: { } since } && since < before;

    private static void Mark(Turn turn, RecordingKey[] some)
    {
        foreach (var one in some)
        {
            RecordingStore.Remove(turn, Label.Read(one.Job), one.Sha256);
        }
    }
}
