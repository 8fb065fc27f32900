using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.BenchEvents;

public static class BenchEventsEndpoints
{
    public static void MapBenchEvents(this IEndpointRouteBuilder routes) => routes
        .MapPost("/v1/bench-events", PostBenchEvents.Handle)
        .WithTags("Bench events")
        .WithSummary("Say what happened at a bench: one event, or a batch of up to 500")
        .RequireOperation(Operation.PostBenchEvents);
}
