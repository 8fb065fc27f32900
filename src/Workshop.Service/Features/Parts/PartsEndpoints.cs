using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Parts;

public static class PartsEndpoints
{
    private const string Part =
        """{ "id": "stem-tirvalle-41", "name": "Winding stem", "maker": "Tirvalle", "makersNumber": "41-0318", "forCalibres": [ "tirvalle-41" ], "counted": { "pieces": 3, "at": "2026-03-02T08:10:00Z" }, "essential": false, "usualWorkingDays": 6 }""";

    private const string Order =
        """{ "id": "po-1042", "firm": "bellmere-dials", "orderedOn": "2026-03-02", "lines": [ { "part": "stem-tirvalle-41", "count": 1, "job": "J7K3MQ4T", "expectedOn": "2026-03-16" } ] }""";

    private const string ShownPart =
        $$"""{ "id": "stem-tirvalle-41", "version": 1, "savedAt": "2026-03-02T09:14:03Z", "document": {{Part}}, "onShelf": 3, "reserved": 1, "free": 2, "reservedFor": [ { "job": "J7K3MQ4T", "count": 1 } ] }""";

    private const string ShownOrder =
        $$"""
        { "id": "po-1042", "version": 2, "savedAt": "2026-03-09T09:14:03Z", "document": {{Order}},
          "lines": [ { "part": "stem-tirvalle-41", "count": 1, "job": "J7K3MQ4T", "expectedOn": "2026-03-16", "come": 0, "wrong": 0,
                       "days": [ { "on": "2026-03-10", "since": "2026-03-02T09:14:03Z" }, { "on": "2026-03-16", "since": "2026-03-09T09:14:03Z" } ] } ] }
        """;

    public static void MapParts(this IEndpointRouteBuilder routes)
    {
        var parts = routes.MapGroup("/v1/parts").WithTags("Parts");
        parts.MapGet("", ReadParts.All)
            .WithName("listParts")
            .WithSummary("The shop's parts, each with how many there are and for whom they are set aside")
            .WithExample(answer: $$"""{ "items": [ {{ShownPart}} ] }""")
            .RequireOperation(Operation.ReadParts);
        parts.MapGet("{id}", ReadParts.One)
            .WithName("readPart")
            .WithSummary("A part, how many there are of it and for whom")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: ShownPart)
            .RequireOperation(Operation.ReadParts);
        parts.MapPut("{id}", SavePart.Handle)
            .WithName("savePart")
            .WithSummary("Write a part down, whole, or count the shelf anew")
            .WithExample(Part, ShownPart)
            .RequireOperation(Operation.EditParts);

        var orders = routes.MapGroup("/v1/part-orders").WithTags("Parts");
        orders.MapGet("", ReadPartOrders.All)
            .WithName("listPartOrders")
            .WithSummary("Orders of parts, with every day on which something was to come")
            .WithExample(answer: $$"""{ "items": [ {{ShownOrder}} ] }""")
            .RequireOperation(Operation.ReadParts);
        orders.MapGet("{id}", ReadPartOrders.One)
            .WithName("readPartOrder")
            .WithSummary("An order of parts, with every day on which something was to come, and what has come")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: ShownOrder)
            .RequireOperation(Operation.ReadParts);
        orders.MapPut("{id}", SavePartOrder.Handle)
            .WithName("savePartOrder")
            .WithSummary("Write an order of parts down, whole; watches that wait for it get their new forecast at once")
            .WithExample(Order, ShownOrder)
            .RequireOperation(Operation.EditParts);
    }
}
