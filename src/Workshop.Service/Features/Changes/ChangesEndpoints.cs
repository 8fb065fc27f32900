using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.Changes;

public static class ChangesEndpoints
{
    public static void MapChanges(this IEndpointRouteBuilder routes) => routes
        .MapGet("/v1/changes", ReadChanges.Handle)
        .WithTags("Changes")
        .WithSummary("What was written down after a position, in order of commit")
        .RequireOperation(Operation.ReadChanges);
}
