using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.People;

public static class PeopleEndpoints
{
    public static void MapPeople(this IEndpointRouteBuilder routes)
    {
        var proof = routes.MapGroup("/v1/people/{person}/proof").WithTags("People");
        proof.MapPut("", GiveProof.Handle)
            .WithName("giveProof")
            .WithSummary("Give somebody the short number by which they prove who they are")
            .WithDescription("From the first one on, whoever passes a final control or says that money is settled at another key than a manager's has to tell theirs. It is kept as a slow salted hash; five wrong ones within a quarter of an hour lock it for another.")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "proof": "4711" }""")
            .RequireOperation(Operation.EditProofs);
        proof.MapDelete("", GiveProof.TakeAway)
            .WithName("takeProofAway")
            .WithSummary("Take somebody's number away")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.EditProofs);
    }
}
