using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Net.Http.Headers;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.Answers;

/// <summary>An answer down to its text, so that it can be kept in the turn that made it and be given again word for word.</summary>
public sealed record KeptAnswer : IResult
{
    public const string Json = "application/json";

    public required int Status { get; init; }

    public string MediaType { get; init; } = Json;

    public required string Body { get; init; }

    public string? Location { get; init; }

    public string? ETag { get; init; }

    /// <summary>The answer of a use case as text.</summary>
    /// <exception cref="InvalidOperationException">The result is of a kind that is not made of one JSON value.</exception>
    public static KeptAnswer Of(IResult result) => result switch
    {
        KeptAnswer kept => kept,
        INestedHttpResult nested => Of(nested.Result),
        IKeepable keepable => keepable.Keep(),
        ProblemHttpResult problem => new KeptAnswer
        {
            Status = problem.StatusCode,
            MediaType = Problems.MediaType,
            Body = JsonSerializer.Serialize(problem.ProblemDetails, WorkshopJson.Options),
        },
        _ => throw new InvalidOperationException($"An answer of the kind {result.GetType().Name} cannot be kept for repeats."),
    };

    public Task ExecuteAsync(HttpContext context)
    {
        context.Response.StatusCode = Status;
        context.Response.ContentType = MediaType == Json ? $"{Json}; charset=utf-8" : MediaType;
        if (Location is not null)
        {
            context.Response.Headers.Location = Location;
        }

        if (ETag is not null)
        {
            context.Response.Headers[HeaderNames.ETag] = ETag;
        }

        var bytes = Encoding.UTF8.GetBytes(Body);
        context.Response.ContentLength = bytes.Length;
        return context.Response.Body.WriteAsync(bytes, context.RequestAborted).AsTask();
    }
}

/// <summary>A result that knows its own text.</summary>
public interface IKeepable
{
    KeptAnswer Keep();
}
