using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Disputes;

public static class DisputesEndpoints
{
    public static void MapDisputes(this IEndpointRouteBuilder routes)
    {
        var disputes = routes.MapGroup("/v1/jobs/{label}/disputes").WithTags("Warranty");
        disputes.MapPost("", OpenDispute.Handle)
            .WithSummary("Write down what a customer disputes; the watch stays until it is settled")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "claim": 1, "text": "It never fell. The reset came off in the drawer." }""")
            .RequireOperation(Operation.OpenDispute);
        disputes.MapGet("", ReadDisputes.All)
            .WithName("readDisputes")
            .WithSummary("Every dispute of a job, with the evidence of both sides")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadDisputes);
        disputes.MapGet("{dispute}", ReadDisputes.One)
            .WithName("readDispute")
            .WithSummary("One dispute, with the evidence of both sides")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadDisputes);
        disputes.MapPost("{dispute}/close", CloseDispute.Handle)
            .WithSummary("Say how a dispute ended, and when the customer was told")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.DisputeSettled)
            .WithExample("""{ "outcome": "customer-was-right", "reason": "The seal was whole, and the case has no mark of a fall." }""")
            .RequireOperation(Operation.CloseDispute);
    }
}
