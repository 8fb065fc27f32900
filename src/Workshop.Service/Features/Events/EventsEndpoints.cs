using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Description;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Events;

public static class EventsEndpoints
{
    public static void MapEvents(this IEndpointRouteBuilder routes) => routes
        .MapGet("/events/{type}.json", Read)
        .WithTags("Events")
        .WithName("readEventSchema")
        .WithSummary("The JSON Schema of an event's data")
        .WithProblems(ProblemCatalogue.NoSuchThing)
        .ExcludeFromDescription()
        .AllowAnonymous();

    private static Results<ContentHttpResult, ProblemHttpResult> Read(string type) => EventSchemas.Of(type) is { } schema
        ? TypedResults.Content(schema, "application/schema+json")
        : Problems.Of(ProblemCatalogue.NoSuchThing, "No event has this type.");
}
