using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Webhooks;

public static class WebhooksEndpoints
{
    private const string Shown = """
        "id": "019cb0c8-5e80-7c3e-9d51-6a2f0b8f4e11", "url": "https://shop.example/hooks/workshop", "description": "shop", "storefront": "/storefront/shop", "state": "enabled",
        "stateSince": "2026-03-02T09:00:00Z", "createdAt": "2026-03-02T09:00:00Z", "takenThrough": 412, "lastPosition": 412, "waiting": 0,
        "secrets": [ { "mark": "630dcd29", "createdAt": "2026-03-02T09:00:00Z" } ], "version": 1
        """;

    public static void MapWebhooks(this IEndpointRouteBuilder routes)
    {
        var endpoints = routes.MapGroup("/v1/webhook-endpoints").WithTags("Messages out");
        endpoints.MapPost("", AddEndpoint.Handle)
            .WithName("addWebhookEndpoint")
            .WithSummary("Have messages sent to an address; the answer holds its secret, this once")
            .WithDescription("Messages are CloudEvents in structured form, signed by Standard Webhooks over the very bytes. A repeat with the same Idempotency-Key is told of the endpoint again, but not its secret.")
            .WithExample(
                """{ "url": "https://shop.example/hooks/workshop", "description": "shop", "storefront": "/storefront/shop" }""",
                $$"""{ {{Shown}}, "secret": "whsec_AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8=" }""")
            .RequireOperation(Operation.EditWebhooks);
        endpoints.MapGet("", ReadEndpoints.All)
            .WithName("listWebhookEndpoints")
            .WithSummary("Where messages go, and how far each address is")
            .WithExample(answer: $$"""{ "items": [ { {{Shown}} } ] }""")
            .RequireOperation(Operation.EditWebhooks);
        endpoints.MapGet("{id}", ReadEndpoints.One)
            .WithName("readWebhookEndpoint")
            .WithSummary("One address that messages go to")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: $$"""{ {{Shown}} }""")
            .RequireOperation(Operation.EditWebhooks);
        endpoints.MapPatch("{id}", EditEndpoint.Handle)
            .WithName("editWebhookEndpoint")
            .WithSummary("Change address, types or storefront, pause it, or enable it again")
            .WithDescription("What comes while it is paused waits; enabled again it gets all of it in order.")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "state": "paused" }""", $$"""{ {{Shown.Replace("\"enabled\"", "\"paused\", \"reason\": \"by-hand\"", StringComparison.Ordinal).Replace("\"version\": 1", "\"version\": 2", StringComparison.Ordinal)}} }""")
            .RequireOperation(Operation.EditWebhooks);
        endpoints.MapDelete("{id}", RemoveEndpoint.Handle)
            .WithName("removeWebhookEndpoint")
            .WithSummary("Send nothing there any more")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.EditWebhooks);
        endpoints.MapPost("{id}/secrets", RotateSecret.Handle)
            .WithName("rotateWebhookSecret")
            .WithSummary("Draw a new secret; the old one signs beside it for a while")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "oldOnesFor": "PT24H" }""", $$"""{ {{Shown}}, "secret": "whsec_AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8=" }""")
            .RequireOperation(Operation.EditWebhooks);
        endpoints.MapGet("{id}/deliveries", ReadDeliveries.Handle)
            .WithName("listWebhookDeliveries")
            .WithSummary("Every attempt to send something there, newest first")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: """
                { "items": [ { "position": 411, "message": "msg_5c0de1f2a3b4958677685940312a2b3c", "type": "job.ready", "subject": "J7K3MQ4T", "attempt": 2, "at": "2026-03-02T09:00:07Z", "delivered": true, "status": 204, "durationMilliseconds": 83 },
                  { "position": 411, "message": "msg_5c0de1f2a3b4958677685940312a2b3c", "type": "job.ready", "subject": "J7K3MQ4T", "attempt": 1, "at": "2026-03-02T09:00:01Z", "delivered": false, "status": 500, "durationMilliseconds": 41, "error": "answered", "nextAttemptAt": "2026-03-02T09:00:06Z" } ] }
                """)
            .RequireOperation(Operation.EditWebhooks);
        endpoints.MapPost("{id}/replay", ReplayMessages.Handle)
            .WithName("replayWebhookMessages")
            .WithSummary("Send everything after a position again")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "after": 398 }""", $$"""{ {{Shown.Replace("\"takenThrough\": 412", "\"takenThrough\": 398", StringComparison.Ordinal)}} }""")
            .RequireOperation(Operation.EditWebhooks);
        endpoints.MapPost("{id}/test", TryEndpoint.Handle)
            .WithName("tryWebhookEndpoint")
            .WithSummary("Send a test there at once and see what comes of it")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: """{ "message": "msg_019cb0c85e807c3e9d516a2f0b8f4e12", "delivered": true, "status": 204, "durationMilliseconds": 83 }""")
            .RequireOperation(Operation.EditWebhooks);
    }
}
