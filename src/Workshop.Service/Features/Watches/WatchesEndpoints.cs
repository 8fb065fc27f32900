using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Watches;

public static class WatchesEndpoints
{
    public static void MapWatches(this IEndpointRouteBuilder routes)
    {
        var watches = routes.MapGroup("/v1/watches").WithTags("Watches");
        watches.MapGet("", ListWatches.Handle)
            .WithSummary("The watches the house has known, newest first")
            .RequireOperation(Operation.ReadWatches);
        watches.MapGet("{id}", ReadWatch.Handle)
            .WithSummary("A watch with all its jobs")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadWatches);
        watches.MapPut("{id}", EditWatch.Handle)
            .WithSummary("Say anew what watch it is; what is left out is gone, and jobs keep the numbers they were taken in with")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "maker": "Orrery & Finch", "model": "Halyard", "caseSerial": "20-417", "movementNumber": "M 77.1", "calibre": { "kind": "automatic" } }""")
            .RequireOperation(Operation.EditWatches);
    }
}
