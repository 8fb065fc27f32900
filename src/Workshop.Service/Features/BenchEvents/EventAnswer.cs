using System.Reflection;
using Microsoft.AspNetCore.Http.Metadata;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>
/// The answer to posted events: for one event 200 with its result, or its problem; for a batch 200 with one result for each, in the
/// order given, since a refused event refuses no other.
/// </summary>
public sealed class EventAnswer : IResult, IEndpointMetadataProvider
{
    private readonly object value;
    private readonly int status;

    private EventAnswer(object value, int status)
    {
        this.value = value;
        this.status = status;
    }

    public static EventAnswer Batch(IReadOnlyList<EventResult> results) => new(results, StatusCodes.Status200OK);

    public static EventAnswer One(EventResult result)
    {
        if (result.Problem is not { } problem)
        {
            return new EventAnswer(result, StatusCodes.Status200OK);
        }

        problem.Extensions["say"] = result.Say;
        if (result.Job is { } job)
        {
            problem.Extensions["job"] = job;
        }

        return new EventAnswer(problem, problem.Status ?? StatusCodes.Status409Conflict);
    }

    public Task ExecuteAsync(HttpContext context)
    {
        context.Response.StatusCode = status;
        return context.Response.WriteAsJsonAsync(
            value, value.GetType(), WorkshopJson.Options, status == StatusCodes.Status200OK ? "application/json; charset=utf-8" : Problems.MediaType, context.RequestAborted);
    }

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder)
    {
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(EventResult), ["application/json"]));
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status409Conflict, typeof(Microsoft.AspNetCore.Mvc.ProblemDetails), [Problems.MediaType]));
    }
}
