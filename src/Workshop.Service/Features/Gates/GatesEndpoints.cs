using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Gates;

public static class GatesEndpoints
{
    public static void MapGates(this IEndpointRouteBuilder routes) => routes
        .MapGet("/v1/gates", ReadGates.Handle)
        .WithTags("Gates")
        .WithSummary("Every gate: what it asks for, how much it insists, how often it was right")
        .WithProblems(ProblemCatalogue.BadFields)
        .WithExample(answer: """
            {"language":"en","since":"2025-12-02","gates":[{"gate":"needs","code":"needs","kind":"job","passesWhen":"the stage that is needed stands","strength":"ask","default":"ask",
             "fixed":false,"waivable":true,"counted":{"spoke":12,"flagged":0,"passed":{"byTap":3,"byWaiver":1,"bySettlement":0},"right":7,"overruled":4,"open":1}}]}
            """)
        .RequireOperation(Operation.ReadGates);
}
