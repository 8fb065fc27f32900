using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Cleaning;

public static class CleaningEndpoints
{
    public static void MapCleaning(this IEndpointRouteBuilder routes)
    {
        var runs = routes.MapGroup("/v1/cleaning-runs").WithTags("Cleaning");
        runs.MapGet("", ListRuns.Handle)
            .WithSummary("The runs of the cleaning machines, newest first")
            .WithProblems(ProblemCatalogue.BadFields)
            .RequireOperation(Operation.ReadCleaning);
        runs.MapGet("{run}", ReadRun.Handle)
            .WithSummary("What is in a run, cage by cage, and what became of it")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadCleaning);

        var machines = routes.MapGroup("/v1/cleaning-machines").WithTags("Cleaning");
        machines.MapGet("{id}/proposal", ProposeRuns.Handle)
            .WithSummary("The next runs from the groups that wait, with the reason for each, and what fluid would be left")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadCleaning);
        machines.MapGet("{id}/fluids", ReadFluids.Handle)
            .WithSummary("What stands in the jars, how long it is still good, what to change next, and the litres thrown away")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadCleaning);

        routes.MapGet("/v1/fluid-batches/{id}/runs", ReadBatchRuns.Handle)
            .WithTags("Cleaning")
            .WithSummary("Which runs and which watches a filling has touched: for a recall")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadCleaning);
    }
}
