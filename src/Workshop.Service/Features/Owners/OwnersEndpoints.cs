using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Owners;

public static class OwnersEndpoints
{
    public static void MapOwners(this IEndpointRouteBuilder routes)
    {
        var watch = routes.MapGroup("/v1/watches/{id}").WithTags("Watches");
        watch.MapPost("owners", AddOwner.Handle)
            .WithSummary("Say that a watch has another owner: letters of care stop, and its warranty goes with it")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "customer": "019cadc6-9a80-79ab-9a5c-e1f8539f6f8e", "from": "2026-03-01", "how": "bought" }""")
            .RequireOperation(Operation.AddWatchOwner);
        watch.MapPut("register-hit", SaveRegisterHit.Handle)
            .WithSummary("Say that a register of stolen watches names it, or that this is cleared; its open job is held without a word")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "hit": true, "register": "the canton's list", "text": "reported in 2024" }""")
            .RequireOperation(Operation.SaveRegisterHit);
    }
}
