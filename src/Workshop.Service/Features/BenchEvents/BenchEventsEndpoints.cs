using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.BenchEvents;

public static class BenchEventsEndpoints
{
    public static void MapBenchEvents(this IEndpointRouteBuilder routes)
    {
        var events = routes.MapGroup("/v1").WithTags("Bench events");
        events.MapPost("bench-events", PostBenchEvents.Handle)
            .WithSummary("Say what happened at a bench: one event, or a batch of up to 500")
            .WithExample("""
                { "specversion": "1.0", "id": "e-2", "source": "/devices/bench-1/1", "sequence": "2", "time": "2026-03-02T12:00:00+01:00",
                  "type": "stage.started", "subject": "J7K3MQ4T", "data": { "stage": "takedown", "bench": "bench-1", "person": "mara" } }
                """)
            .RequireOperation(Operation.PostBenchEvents);
        events.MapGet("devices/{id}/outcomes", ReadOutcomes.Handle)
            .WithSummary("What became of events that had been held, in the order of their verdicts")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadOutcomes);
        events.MapGet("received", ReadReceived.Handle)
            .WithSummary("What came through the door and waits, was refused, or was taken in")
            .RequireOperation(Operation.ReadReceived);
    }
}
