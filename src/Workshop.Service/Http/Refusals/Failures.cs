using System.Diagnostics;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.Refusals;

/// <summary>Turns what nobody caught into an answer that gives nothing of the inside away.</summary>
public sealed partial class Failures(ILogger<Failures> log) : IExceptionHandler
{
    private const int ComeAgainInSeconds = 1;
    private const int ComeAgainWhenReachableInSeconds = 5;

    public async ValueTask<bool> TryHandleAsync(HttpContext context, Exception failure, CancellationToken cancel)
    {
        if (failure is OperationCanceledException && context.RequestAborted.IsCancellationRequested)
        {
            return true;
        }

        await Answer(context, failure).ExecuteAsync(context);
        return true;
    }

    private ProblemHttpResult Answer(HttpContext context, Exception failure)
    {
        switch (failure)
        {
            case WriterBusyException:
                context.Response.Headers.RetryAfter = $"{ComeAgainInSeconds}";
                return Problems.Of(ProblemCatalogue.StorageBusy, "Nothing was written; the same request can be sent again.");

            case StorageUnavailableException:
                StorageIsAway(log, failure);
                context.Response.Headers.RetryAfter = $"{ComeAgainWhenReachableInSeconds}";
                return Problems.Of(ProblemCatalogue.StorageUnavailable, "It is not certain that anything was written; the same request can be sent again.");

            case BadHttpRequestException bad:
                return RequestBody.OfServer(bad);

            default:
                var reference = Activity.Current?.TraceId.ToString() ?? context.TraceIdentifier;
                SomethingUnexpected(log, failure, context.Request.Method, RouteOf(context), reference);
                return Problems.Of(ProblemCatalogue.Unexpected, "The operator finds more in the log under the reference.", ("reference", reference));
        }
    }

    // The pattern, not the path: a path can hold a customer's token.
    private static string RouteOf(HttpContext context) =>
        (context.Features.Get<IExceptionHandlerFeature>()?.Endpoint as RouteEndpoint)?.RoutePattern.RawText ?? "no route";

    [LoggerMessage(Level = LogLevel.Error, Message = "The storage could not be reached")]
    private static partial void StorageIsAway(ILogger log, Exception failure);

    [LoggerMessage(Level = LogLevel.Error, Message = "{Method} {Route} failed unexpectedly, reference {Reference}")]
    private static partial void SomethingUnexpected(ILogger log, Exception failure, string method, string route, string reference);
}
