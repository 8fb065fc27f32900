using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Feeds;

public static class FeedsEndpoints
{
    public static void MapFeeds(this IEndpointRouteBuilder routes)
    {
        var feeds = routes.MapGroup("/v1/agenda/feeds").WithTags("Agenda");
        feeds.MapPost("", EditFeeds.Add)
            .WithName("addFeed")
            .WithSummary("Make a calendar of what falls due, to subscribe to: of a bench, of a person, or of the whole house")
            .WithDescription("The address in the answer holds a token of its own and is shown this once; it reads that calendar and nothing else, until it is revoked.")
            .WithExample(
                """{ "bench": "bench-2" }""",
                """{ "id": "0198c0de0000700080000000000000a1", "bench": "bench-2", "createdAt": "2026-03-02T09:00:00Z", "address": "/v1/agenda/3pXy….ics" }""")
            .RequireOperation(Operation.EditFeeds);
        feeds.MapGet("", EditFeeds.All)
            .WithName("readFeeds")
            .WithSummary("Every calendar that can be read, without its token")
            .WithExample(answer: """{ "items": [ { "id": "0198c0de0000700080000000000000a1", "bench": "bench-2", "createdAt": "2026-03-02T09:00:00Z" } ] }""")
            .RequireOperation(Operation.EditFeeds);
        feeds.MapDelete("{id}", EditFeeds.Revoke)
            .WithName("revokeFeed")
            .WithSummary("Let a calendar be read no longer")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.EditFeeds);
        routes.MapGet("/v1/agenda/{file}", ReadFeed.Handle)
            .WithTags("Agenda")
            .WithName("readFeed")
            .WithSummary("A calendar (RFC 5545) by its token: /v1/agenda/<token>.ics")
            .WithDescription("Without a key. Moments in UTC; what moves keeps its UID and counts its SEQUENCE up; what falls away before its time is CANCELLED and shown for 35 days more.")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .Produces(StatusCodes.Status200OK, contentType: FeedCalendar.MediaType)
            .AllowAnonymous();
    }
}
