using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Shipments;

public static class ShipmentsEndpoints
{
    public static void MapShipments(this IEndpointRouteBuilder routes)
    {
        var shipments = routes.MapGroup("/v1/shipments").WithTags("Warranty");
        shipments.MapPost("", SendShipment.Handle)
            .WithSummary("Write down a parcel with one watch, with several, or with pieces of one")
            .WithProblems([.. GateProblems.All.Where(kind => kind.Code is "needs" or "hold" or "insured-for-less")])
            .WithExample("""{ "jobs": [ { "job": "J7K3MQ43" } ], "direction": "to-customer", "carrier": "post", "number": "99.60.117", "insuredMinor": 300000, "currency": "CHF" }""")
            .RequireOperation(Operation.SendShipment);
        shipments.MapGet("{id}", ReadShipments.One)
            .WithName("readShipment")
            .WithSummary("A parcel and the watches in it")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadShipments);
        shipments.MapPost("{id}/delivered", TellOfShipment.Delivered)
            .WithName("tellOfDelivery")
            .WithSummary("Say that a parcel arrived; what went out in it is under warranty from that day, where it is later than presumed")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "on": "2026-03-12" }""")
            .RequireOperation(Operation.TellOfShipment);
        shipments.MapPost("{id}/lost", TellOfShipment.Lost)
            .WithName("tellOfLoss")
            .WithSummary("Say that a parcel is lost on its way")
            .WithProblems(ProblemCatalogue.NoSuchThing, ProblemCatalogue.ShipmentArrived)
            .WithExample("""{ "reason": "The carrier has given it up." }""")
            .RequireOperation(Operation.TellOfShipment);
        routes.MapGet("/v1/jobs/{label}/shipments", ReadShipments.OfJob)
            .WithTags("Warranty")
            .WithName("readShipments")
            .WithSummary("The parcels a watch travelled in")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadShipments);
    }
}
