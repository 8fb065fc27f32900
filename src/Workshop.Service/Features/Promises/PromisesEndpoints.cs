using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Promises;

public static class PromisesEndpoints
{
    public static void MapPromises(this IEndpointRouteBuilder routes)
    {
        routes.MapPost("/v1/promises/moves", MovePromises.Handle)
            .WithTags("Promises")
            .WithSummary("Move promised dates, each with its reason; one that is refused refuses no other")
            .WithExample("""{ "moves": [ { "job": "J7K3MQ4T", "to": "2026-04-08", "reason": "part", "note": "the crown is on its way" } ], "person": "mara" }""")
            .RequireOperation(Operation.MovePromises);
        routes.MapGet("/v1/jobs/{label}/promise", ReadPromise.Handle)
            .WithTags("Promises")
            .WithSummary("A job's promised dates, the shop's own target and the forecast, with their history and reasons")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadPromise);
    }
}
