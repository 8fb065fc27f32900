using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Warranties;

public static class WarrantiesEndpoints
{
    public static void MapWarranties(this IEndpointRouteBuilder routes)
    {
        var job = routes.MapGroup("/v1/jobs/{label}").WithTags("Warranty");
        job.MapPost("hand-over", HandOver.Handle)
            .WithSummary("Give the watch back, or a piece of it; the warranty begins with the last")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithProblems([.. GateProblems.All.Where(kind => kind.Code is "needs" or "hold" or "handed-over" or "pieces-home")])
            .WithExample("""{ "how": "collected", "identitySeen": true }""")
            .RequireOperation(Operation.HandOver);
        job.MapPost("delivery", RecordDelivery.Handle)
            .WithSummary("Say when a watch that was sent was delivered; the warranty starts with a later day than presumed, never with an earlier one")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.NotDispatched)
            .WithExample("""{ "on": "2026-03-12", "how": "carrier" }""")
            .RequireOperation(Operation.RecordDelivery);
        job.MapGet("warranty", ReadWarranty.Handle)
            .WithSummary("Whether a fault reported on a day is under warranty, line by line, and why")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.BadFields)
            .RequireOperation(Operation.ReadWarranty);

        routes.MapGet("/v1/rules/presets", ReadPresets.Handle)
            .WithTags("Shop")
            .WithSummary("Rule sets to begin with, each with its arithmetic, its sources and how sure they are")
            .RequireOperation(Operation.ReadShop);

        var claims = job.MapGroup("claims");
        claims.MapPost("", ReportClaim.Handle)
            .WithSummary("Write down a fault that the customer reports")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.NotHandedOver)
            .WithExample("""{ "reportedOn": "2026-01-08", "receivedOn": "2026-01-10", "text": "It stops in the night." }""")
            .RequireOperation(Operation.ReportClaim);
        claims.MapGet("", ReadClaims.All)
            .WithName("readClaims")
            .WithSummary("Every claim of a job")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadWarranty);
        claims.MapGet("{claim}", ReadClaims.One)
            .WithName("readClaim")
            .WithSummary("One claim")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadWarranty);
        claims.MapGet("{claim}/evidence", ReadEvidence.Handle)
            .WithSummary("What is known about a claim, of both sides side by side")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadClaimEvidence);
        claims.MapPost("{claim}/decision", DecideClaim.Handle)
            .WithSummary("Decide whether a claim is covered, and which lines it is about")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "covered": true, "lines": ["movement"], "reason": "The reset came off; nobody else was in there." }""")
            .RequireOperation(Operation.DecideClaim);
        claims.MapPut("{claim}/stay", RecordClaimStay.Handle)
            .WithSummary("Say from which day to which the watch was here for a claim")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "receivedOn": "2026-01-10", "returnedOn": "2026-02-02" }""")
            .RequireOperation(Operation.RecordClaimStay);
    }
}
