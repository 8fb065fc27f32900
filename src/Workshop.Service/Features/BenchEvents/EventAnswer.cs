using System.Reflection;
using System.Text.Json;
using Microsoft.AspNetCore.Http.Metadata;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>
/// The answer to posted events: for one event 200 with its result, or its problem; for a batch 200 with one result for each, in the
/// order given, since a refused event refuses no other.
/// </summary>
public sealed class EventAnswer : IResult, IEndpointMetadataProvider
{
    private readonly AnswerText text;

    private EventAnswer(AnswerText text) => this.text = text;

    internal static EventAnswer Batch(IReadOnlyList<Verdict> verdicts) =>
        new(Text(StatusCodes.Status200OK, AnswerText.Json, verdicts.Select(verdict => verdict.Result)));

    internal static EventAnswer One(Verdict verdict)
    {
        var result = verdict.Result;
        if (result.Problem is not { } problem)
        {
            return new EventAnswer(verdict.Text is { } kept
                ? new AnswerText { Status = StatusCodes.Status200OK, Body = kept }
                : Text(StatusCodes.Status200OK, AnswerText.Json, result));
        }

        problem.Extensions["say"] = result.Say;
        if (result.Job is { } job)
        {
            problem.Extensions["job"] = job;
        }

        return new EventAnswer(Text(problem.Status ?? StatusCodes.Status409Conflict, Problems.MediaType, problem));
    }

    public Task ExecuteAsync(HttpContext context) => text.ExecuteAsync(context);

    private static AnswerText Text<T>(int status, string mediaType, T value) =>
        new() { Status = status, MediaType = mediaType, Body = JsonSerializer.Serialize(value, WorkshopJson.Options) };

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder)
    {
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(EventResult), ["application/json"]));
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status409Conflict, typeof(Microsoft.AspNetCore.Mvc.ProblemDetails), [Problems.MediaType]));
    }
}
