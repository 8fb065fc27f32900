using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Changes;

public static class ChangesEndpoints
{
    public static void MapChanges(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/changes", ReadChanges.Handle)
            .WithTags("Changes")
            .WithSummary("What was written down after a position, in order of commit")
            .WithDescription("A storefront reads the events that are told outside of its own orders and of the shop, the same as endpoints are sent; its position is their sequence.")
            .RequireOperation(Operation.ReadChanges);
        routes.MapGet(StreamTickets.Address.Value!, StreamChanges.Handle)
            .WithName("streamChanges")
            .WithTags("Changes")
            .WithSummary("The same as it happens, as server-sent events")
            .WithDescription("The id of each event is its position; whoever comes again sends the last one as Last-Event-ID, or ?after= at first. Every few seconds of silence a comment says that the line is alive. A browser opens it with a ticket, ?ticket=.")
            .WithProblems(ProblemCatalogue.TooManyStreams)
            .WithExample(answer: """ "id: 412\nevent: job.taken-in\ndata: {\"position\":412}\n\n: still here\n\n" """)
            .RequireOperation(Operation.ReadChanges);
        routes.MapPost("/v1/changes/tickets", MakeTicket.Handle)
            .WithName("makeStreamTicket")
            .WithTags("Changes")
            .WithSummary("Get a ticket with which a browser may open the stream, once and within half a minute")
            .WithExample(answer: """{ "ticket": "wt_…", "address": "/v1/changes/stream?ticket=wt_…", "expiresAt": "2026-03-02T09:00:30Z" }""")
            .RequireOperation(Operation.ReadChanges);
    }
}
