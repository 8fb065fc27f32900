using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Watches;

public static class WatchesEndpoints
{
    public static void MapWatches(this IEndpointRouteBuilder routes) => routes
        .MapGet("/v1/watches/{id}", ReadWatch.Handle)
        .WithTags("Watches")
        .WithSummary("A watch with all its jobs")
        .WithProblems(ProblemCatalogue.NoSuchThing)
        .RequireOperation(Operation.ReadWatches);
}
