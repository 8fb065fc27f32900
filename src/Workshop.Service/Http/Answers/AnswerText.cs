using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.Answers;

/// <summary>An answer down to its text, so that it can be kept in the turn that made it and be given again word for word.</summary>
public sealed record AnswerText : IResult
{
    public const string Json = "application/json";

    public required int Status { get; init; }

    public string MediaType { get; init; } = Json;

    public required string Body { get; init; }

    /// <summary>Headers of this answer besides its media type: Location, ETag.</summary>
    public IReadOnlyDictionary<string, string> Headers { get; init; } = new Dictionary<string, string>();

    /// <summary>The answer of a use case as text.</summary>
    /// <exception cref="InvalidOperationException">The result is of a kind that is not made of one JSON value.</exception>
    public static AnswerText Of(IResult result) => result switch
    {
        AnswerText text => text,
        INestedHttpResult nested => Of(nested.Result),
        IAnswerAsText answer => answer.AsText(),
        ProblemHttpResult problem => new AnswerText
        {
            Status = problem.StatusCode,
            MediaType = Problems.MediaType,
            Body = JsonSerializer.Serialize(problem.ProblemDetails, WorkshopJson.Options),
        },
        _ => throw new InvalidOperationException($"An answer of the kind {result.GetType().Name} cannot be kept for repeats."),
    };

    /// <summary>The first answer to a request that is sent again.</summary>
    internal static AnswerText Again(KeptAnswer kept)
    {
        var headers = JsonSerializer.Deserialize<Dictionary<string, string>>(kept.Headers, WorkshopJson.Options)!;
        headers.Remove("Content-Type", out var mediaType);
        headers[Once.ReplayedHeader] = "true";
        return new AnswerText { Status = kept.Status, MediaType = mediaType ?? Json, Body = kept.Body, Headers = headers };
    }

    internal KeptAnswer ToKeep() => new(
        Status,
        JsonSerializer.Serialize(new Dictionary<string, string>(Headers) { ["Content-Type"] = MediaType }, WorkshopJson.Options),
        Body);

    public Task ExecuteAsync(HttpContext context)
    {
        var bytes = Encoding.UTF8.GetBytes(Body);
        context.Response.StatusCode = Status;
        context.Response.ContentType = MediaType;
        context.Response.ContentLength = bytes.Length;
        foreach (var (name, value) in Headers)
        {
            context.Response.Headers[name] = value;
        }

        return context.Response.Body.WriteAsync(bytes, context.RequestAborted).AsTask();
    }
}

/// <summary>A result that knows its own text.</summary>
public interface IAnswerAsText
{
    AnswerText AsText();
}
