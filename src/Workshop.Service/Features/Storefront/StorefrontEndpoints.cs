using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Storefront;

public static class StorefrontEndpoints
{
    private const string Storefront =
        """
        { "id": "shop", "source": "/storefront/shop", "name": "The shop's own page", "since": "2026-03-02T09:14:03Z",
          "secrets": [ { "id": "3f9a1c07", "since": "2026-03-02T09:14:03Z" } ], "inbox": { "position": 41, "heardAt": "2026-03-02T10:00:30Z" } }
        """;

    private const string Drawn =
        """{ "storefront": "shop", "source": "/storefront/shop", "id": "3f9a1c07", "secret": "whsec_…", "secrets": [ { "id": "3f9a1c07", "since": "2026-03-02T09:14:03Z" } ] }""";

    private const string Message =
        """
        { "number": 12, "storefront": "shop", "door": "post", "type": "order.paid", "id": "evt-77", "order": "2041", "flags": [ "unknown-order" ],
          "details": [ "Nothing but this is known of the order yet." ], "receivedAt": "2026-03-02T09:14:03Z" }
        """;

    private const string Order =
        """
        { "storefront": "shop", "order": "2041", "customerRef": "c-9", "revision": 2, "placedAt": "2026-03-02T08:50:00Z", "currency": "GBP",
          "lines": [ { "line": "1", "product": "service-automatic", "quantity": 1, "options": [], "amountMinor": 48000 } ],
          "paidMinor": 48000, "refundedMinor": 0, "disputed": [], "payments": [ { "payment": "p-1", "kind": "balance", "amountMinor": 48000, "currency": "GBP", "at": "2026-03-02T08:51:00Z" } ],
          "shipments": [], "arrivals": [], "version": 2 }
        """;

    public static void MapStorefront(this IEndpointRouteBuilder routes)
    {
        var door = routes.MapGroup("/v1/storefront").WithTags("Storefront");
        door.MapPost("events", PostStorefrontEvents.Handle)
            .WithName("postStorefrontEvents")
            .WithSummary("The storefront's door: one event or a batch, signed")
            .WithDescription(
                "Without a key: the headers of Standard Webhooks prove over the exact bytes who speaks. What is well signed is kept and answered 202, whatever it says; `flags` names what somebody will look at. The same webhook-id again gets the first answer again. See join-your-storefront.md.")
            .WithProblems(ProblemCatalogue.SignatureRefused)
            .WithExample(
                """
                { "specversion": "1.0", "id": "evt-76", "source": "/storefront/shop", "type": "order.created", "time": "2026-03-02T08:50:00Z",
                  "data": { "order": "2041", "revision": 1, "placedAt": "2026-03-02T08:50:00Z", "currency": "GBP",
                    "customer": { "ref": "c-9", "name": "Ida Marlow", "email": "ida@example.com", "language": "en", "consents": [ { "kind": "messages", "channels": [ "email" ] } ] },
                    "lines": [ { "line": "1", "product": "service-automatic", "quantity": 1, "options": [], "amountMinor": 48000, "taxMinor": 8000, "customersWords": "stops at night" } ], "wishes": { "polish": "no" } } }
                """,
                """{ "flags": [], "events": [ { "number": 11, "id": "evt-76", "type": "order.created", "replayed": false, "flags": [], "details": [] } ] }""")
            .AllowAnonymous();
        door.MapGet("received", ReadMessages.All)
            .WithName("listStorefrontMessages")
            .WithSummary("What storefronts have told, newest first; with flagged=true what nobody has looked at yet")
            .WithProblems(ProblemCatalogue.BadFields)
            .WithExample(answer: $$"""{ "items": [ {{Message}} ] }""")
            .RequireOperation(Operation.ReadOrders);
        door.MapGet("received/{number:long}", ReadMessages.One)
            .WithName("readStorefrontMessage")
            .WithSummary("One message, word for word")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: Message)
            .RequireOperation(Operation.ReadOrders);
        door.MapPost("received/{number:long}/seen", ReadMessages.See)
            .WithName("seeStorefrontMessage")
            .WithSummary("Say that somebody has looked at a flagged message")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "person": "mara", "note": "telephoned, the order stands" }""", Message)
            .RequireOperation(Operation.EditMessages);

        var storefronts = routes.MapGroup("/v1/storefronts").WithTags("Storefront");
        storefronts.MapGet("", ManageStorefronts.All)
            .WithName("listStorefronts")
            .WithSummary("The storefronts whose orders the house takes")
            .WithExample(answer: $$"""{ "items": [ {{Storefront}} ] }""")
            .RequireOperation(Operation.ReadStorefronts);
        storefronts.MapPost("", ManageStorefronts.Add)
            .WithName("addStorefront")
            .WithSummary("Take a storefront's orders from now on: its secret is drawn and shown this once")
            .WithProblems(ProblemCatalogue.StorefrontIsThere)
            .WithExample("""{ "id": "shop", "name": "The shop's own page" }""", Drawn)
            .RequireOperation(Operation.EditStorefronts);
        storefronts.MapGet("{id}", ManageStorefronts.One)
            .WithName("readStorefront")
            .WithSummary("A storefront, its secrets in force by their marks, and how its inbox is read")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: Storefront)
            .RequireOperation(Operation.ReadStorefronts);
        storefronts.MapPost("{id}/secrets", ManageStorefronts.Draw)
            .WithName("drawStorefrontSecret")
            .WithSummary("Draw another secret; those before it are taken for as long as the overlap says")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "overlap": "PT24H" }""", Drawn)
            .RequireOperation(Operation.EditStorefronts);
        storefronts.MapDelete("{id}/secrets/{secret}", ManageStorefronts.Revoke)
            .WithName("revokeStorefrontSecret")
            .WithSummary("Take messages signed with a secret no longer, from now on")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.EditStorefronts);
        storefronts.MapGet("{id}/orders", ReadOrders.All)
            .WithName("listOrders")
            .WithSummary("The orders of a storefront as they stand, by their names")
            .WithExample(answer: $$"""{ "items": [ {{Order}} ] }""")
            .RequireOperation(Operation.ReadOrders);
        storefronts.MapGet("{id}/orders/{order}", ReadOrders.One)
            .WithName("readOrder")
            .WithSummary("An order as it stands by all that was told of it")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: Order)
            .RequireOperation(Operation.ReadOrders);
    }
}
