namespace Workshop.Service.Http;

/// <summary>For whoever watches over the program.</summary>
public static class Health
{
    public static void MapHealth(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/health/live", () => TypedResults.Ok(new Standing("live"))).WithTags("Health").WithSummary("The program runs").AllowAnonymous();
    }

    /// <param name="Status"><c>live</c> or <c>ready</c>.</param>
    public sealed record Standing(string Status);
}
