using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.BenchEvents;

public static class BenchEventsEndpoints
{
    public static void MapBenchEvents(this IEndpointRouteBuilder routes) => routes
        .MapPost("/v1/bench-events", PostBenchEvents.Handle)
        .WithTags("Bench events")
        .WithSummary("Say what happened at a bench: one event, or a batch of up to 500")
        .WithExample("""
            { "specversion": "1.0", "id": "e-2", "source": "/devices/bench-1/1", "sequence": "2", "time": "2026-03-02T12:00:00+01:00",
              "type": "stage.started", "subject": "J7K3MQ4T", "data": { "stage": "takedown", "bench": "bench-1", "person": "mara" } }
            """)
        .RequireOperation(Operation.PostBenchEvents);
}
