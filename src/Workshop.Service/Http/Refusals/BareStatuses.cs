using Microsoft.AspNetCore.Diagnostics;
using Workshop.Core.Words;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Http.Refusals;

/// <summary>Statuses that the framework gives without a body (401, 403, 404, 405 …) get the body of every other problem.</summary>
internal static class BareStatuses
{
    public static void UseProblemsForBareStatuses(this IApplicationBuilder app) => app.UseStatusCodePages(Explain);

    private static async Task Explain(StatusCodeContext bare)
    {
        var context = bare.HttpContext;
        if (ProblemCatalogue.OfStatus(context.Response.StatusCode) is not { } kind)
        {
            return;
        }

        var operation = context.GetEndpoint()?.Metadata.GetMetadata<OperationOf>()?.Operation;
        var problem = kind == ProblemCatalogue.NotForThisRole && operation is { } asked
            ? Problems.Of(kind, $"This needs a key of the role {string.Join(" or ", Operations.MayDo(asked).Select(Word.Of))}.", ("roles", Operations.MayDo(asked).Select(Word.Of).ToArray()))
            : Problems.Of(kind, kind.Remedy);
        await problem.ExecuteAsync(context);
    }
}
