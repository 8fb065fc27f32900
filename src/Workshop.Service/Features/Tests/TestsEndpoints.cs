using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Tests;

public static class TestsEndpoints
{
    public static void MapTests(this IEndpointRouteBuilder routes)
    {
        var job = routes.MapGroup("/v1/jobs/{label}").WithTags("Jobs");
        job.MapGet("functions", ReadFunctions.Handle)
            .WithSummary("What functions a watch has to show: right, not right, still open, and where what is not right is put right")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadFunctions);
        job.MapGet("reserve-tests", ReadReserveTests.Handle)
            .WithSummary("How long a watch ran from full wind, against what is stated")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadReserveTests);
        job.MapGet("water-tests", ReadWaterTests.Handle)
            .WithSummary("How a watch is tested for tightness, whether it may be, and what tests still say of it")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadWaterTests);
        job.MapGet("stops", ReadStops.Handle)
            .WithSummary("When a watch stopped, what that makes one suspect, what to try next, and what was found")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadStops);
    }
}
