using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.BackUps;

public static class BackUpsEndpoints
{
    private const string Shown = """{ "newest": { "madeAt": "2026-03-02T02:40:00Z", "where": "workshop-20260302T024000Z.db", "bytes": 7340032 }, "madeHere": true, "tooOldAfter": "PT36H" }""";

    public static void MapBackUps(this IEndpointRouteBuilder routes)
    {
        var backUps = routes.MapGroup("/v1/back-ups").WithTags("Back-ups");
        backUps.MapGet("", ReadBackUps.Handle)
            .WithSummary("How old the newest back-up is")
            .WithExample(answer: Shown)
            .RequireOperation(Operation.KeepBackUps);
        backUps.MapPost("", TellBackUp.Handle)
            .WithSummary("Tell of a back-up that was made elsewhere, as on PostgreSQL")
            .WithExample("""{ "madeAt": "2026-03-02T02:40:00Z", "where": "the office's second disk" }""", Shown)
            .RequireOperation(Operation.KeepBackUps);
    }
}
