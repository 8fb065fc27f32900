using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Watches;

/// <summary>
/// Says anew what watch it is: the whole of it, what is left out is gone. Jobs keep the numbers they were taken in with, which are compared
/// at casing; a wrong one there is set right where it was said.
/// </summary>
public static class EditWatch
{
    public static async Task<Results<Seen<WatchLife>, ProblemHttpResult>> Handle(
        string id, JsonBody<WatchDetails> body, SeenState seen, Caller caller, Writer writer, Reader reader, CancellationToken cancel) =>
        await writer.Turn(caller.Site, turn => Edit(turn, id, body.Value, seen), cancel) is { } refusal ? refusal : await ReadWatch.Handle(id, caller, reader, cancel);

    private static ProblemHttpResult? Edit(Turn turn, string id, WatchDetails details, SeenState seen)
    {
        if (WatchStore.Find(turn, id) is not { } before)
        {
            return ReadWatch.NoWatch();
        }

        if (seen.RefusalUnlessStill(before.Version) is { } changed)
        {
            return changed;
        }

        if (details.Faults("", turn.Rules.Calendar.DateOf(turn.Now)).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        WatchStore.Change(turn, before, details);
        return null;
    }
}
