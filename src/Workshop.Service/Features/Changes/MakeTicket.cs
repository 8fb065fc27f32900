using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Changes;

/// <param name="Ticket">For <c>?ticket=</c>, once.</param>
/// <param name="Address">With the ticket in it.</param>
public sealed record TicketView(string Ticket, string Address, Instant ExpiresAt);

/// <summary>A ticket for a browser that is to read along. It is the key's own: what the key may not see it does not show either.</summary>
public static class MakeTicket
{
    public static async Task<Ok<TicketView>> Handle(Caller caller, HttpContext context, Writer writer, StreamTickets tickets, CancellationToken cancel)
    {
        context.Response.Headers.CacheControl = "no-store";
        var (ticket, expires) = await writer.Turn(caller.Site, turn => tickets.Make(turn, caller), cancel);
        return TypedResults.Ok(new TicketView(ticket, $"{StreamTickets.Address}?ticket={ticket}", expires));
    }
}
