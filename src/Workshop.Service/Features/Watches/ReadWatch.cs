using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Watches;

/// <summary>One watch with all its jobs: what was done to it before is the first thing to know about it.</summary>
public static class ReadWatch
{
    public static Task<Results<Seen<WatchLife>, ProblemHttpResult>> Handle(string id, Caller caller, Reader reader, CancellationToken cancel) =>
        reader.Read<Results<Seen<WatchLife>, ProblemHttpResult>>(
            connection => WatchStore.Find(connection, caller.Site, id) is { } stored
                ? Answer.Seen(stored.Version, new WatchLife(
                    WatchView.Of(stored), stored.CustomerId, [.. WatchStore.Jobs(connection, caller.Site, id).Select(JobOfWatch.Of)],
                    OwnerView.Of(OwnerStore.All(connection, caller.Site, id)),
                    caller.Role == Role.Manager ? RegisterHitView.Of(RegisterHitStore.Find(connection, caller.Site, id)) : null))
                : NoWatch(),
            cancel);

    internal static ProblemHttpResult NoWatch() => Problems.Of(ProblemCatalogue.NoSuchThing, "There is no watch with this id.");
}
