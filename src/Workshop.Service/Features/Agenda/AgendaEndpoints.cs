using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.Agenda;

public static class AgendaEndpoints
{
    public static void MapAgenda(this IEndpointRouteBuilder routes) => routes
        .MapGet("/v1/agenda", ReadAgenda.Handle)
        .WithTags("Agenda")
        .WithSummary("What falls due, overdue first")
        .RequireOperation(Operation.ReadAgenda);
}
