using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Parties;

public static class PartiesEndpoints
{
    public static void MapParties(this IEndpointRouteBuilder routes)
    {
        var parties = routes.MapGroup("/v1/jobs/{label}/parties").WithTags("Customers");
        parties.MapGet("", ReadParties.Handle)
            .WithSummary("The people round a watch: owner, who brought it, payer, recipient, who decides, who is told")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadParties);
        parties.MapPut("", SaveParties.Handle)
            .WithSummary("Say anew who the people round a watch are; whoever is left out is the customer of the intake")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "payer": "019cadc6-9a80-79ab-9a5c-e1f8539f6f8e", "recipient": "019cadc6-9a80-79ab-9a5c-e1f8539f6f8f", "notBefore": "2026-05-10" }""")
            .RequireOperation(Operation.EditParties);
    }
}
