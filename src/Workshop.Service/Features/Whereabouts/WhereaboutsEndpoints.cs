using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Whereabouts;

public static class WhereaboutsEndpoints
{
    public static void MapWhereabouts(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/evening-list", ReadEveningList.Handle)
            .WithTags("Whereabouts")
            .WithSummary("What is where at the end of the day, what the safe was counted to hold, and, for those who may see amounts, declared values against the policy")
            .RequireOperation(Operation.ReadEveningList);
        routes.MapGet("/v1/people/{id}/bench", ReadWhatLiesWith.Handle)
            .WithTags("Whereabouts")
            .WithSummary("What lies with somebody, each piece with whether others may go on with it")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadWhatLiesWith);
    }
}
