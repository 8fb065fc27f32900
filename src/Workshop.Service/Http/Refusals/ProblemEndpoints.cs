using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Description;

namespace Workshop.Service.Http.Refusals;

/// <summary>What a problem's <c>type</c> leads to.</summary>
public static class ProblemEndpoints
{
    public static void MapProblems(this IEndpointRouteBuilder routes)
    {
        var problems = routes.MapGroup("/problems").WithTags("Problems").AllowAnonymous();
        problems.MapGet("", () => TypedResults.Ok(ProblemCatalogue.All)).WithName("listProblems").WithSummary("Every kind of problem the service answers with");
        problems.MapGet("{code}", Read).WithName("readProblem").WithProblems(ProblemCatalogue.NoSuchThing).WithSummary("What one kind of problem means and what to do about it");
    }

    private static Results<Ok<ProblemKind>, ProblemHttpResult> Read(string code) =>
        ProblemCatalogue.Find(code) is { } kind
            ? TypedResults.Ok(kind)
            : Problems.Of(ProblemCatalogue.NoSuchThing, "No problem has this code.");
}
