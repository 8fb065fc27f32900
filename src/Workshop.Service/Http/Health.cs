using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Http;

/// <summary>For whoever watches over the program; without a key, and telling nothing of the workshop.</summary>
public static class Health
{
    private const string LookSql = """
        select count(*)
        from site
        """;

    public static void MapHealth(this IEndpointRouteBuilder routes)
    {
        var health = routes.MapGroup("/health").WithTags("Health").AllowAnonymous();
        health.MapGet("live", () => TypedResults.Ok(new Standing("live"))).WithName("readLife").WithSummary("The program runs");
        health.MapGet("ready", IsReady).WithName("readReadiness").WithSummary("The program runs and reaches its database");
    }

    private static async Task<Results<Ok<Standing>, ProblemHttpResult>> IsReady(Reader reader, HttpContext context)
    {
        try
        {
            await reader.QueryFirst<long>(LookSql, cancel: context.RequestAborted);
            return TypedResults.Ok(new Standing("ready"));
        }
        catch (StorageUnavailableException)
        {
            context.Response.Headers.RetryAfter = "5";
            return Problems.Of(ProblemCatalogue.StorageUnavailable, "The database does not answer.");
        }
    }

    /// <param name="Status"><c>live</c> or <c>ready</c>.</param>
    public sealed record Standing(string Status);
}
