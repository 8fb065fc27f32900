using System.Reflection;
using System.Text.Json;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.Net.Http.Headers;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.Answers;

/// <summary>One thing in a state that has a version: 200 with its ETag, or 304 where the asker has seen just that.</summary>
public sealed class Seen<T>(long version, T value) : IResult, IAnswerAsText, IEndpointMetadataProvider
{
    public T Value => value;

    public AnswerText AsText()
    {
        var body = JsonSerializer.Serialize(value, WorkshopJson.Options);
        return new AnswerText
        {
            Status = StatusCodes.Status200OK,
            Body = body,
            Headers = new Dictionary<string, string> { [HeaderNames.ETag] = EntityTag.Of(version, body) },
        };
    }

    public Task ExecuteAsync(HttpContext context)
    {
        var answer = AsText();
        var tag = answer.Headers[HeaderNames.ETag];
        var onlyAsked = HttpMethods.IsGet(context.Request.Method) || HttpMethods.IsHead(context.Request.Method);
        if (!onlyAsked || !EntityTag.IsNamedBy(context.Request.Headers.IfNoneMatch, tag))
        {
            return answer.ExecuteAsync(context);
        }

        context.Response.StatusCode = StatusCodes.Status304NotModified;
        context.Response.Headers[HeaderNames.ETag] = tag;
        return Task.CompletedTask;
    }

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder)
    {
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(T), [AnswerText.Json]));
        builder.Metadata.Add(new GivesETag());
    }
}

/// <summary>Something that was made just now: 201 with its address and its ETag.</summary>
public sealed class Made<T>(string location, long version, T value) : IResult, IAnswerAsText, IEndpointMetadataProvider
{
    public T Value => value;

    public AnswerText AsText()
    {
        var body = JsonSerializer.Serialize(value, WorkshopJson.Options);
        return new AnswerText
        {
            Status = StatusCodes.Status201Created,
            Body = body,
            Headers = new Dictionary<string, string> { [HeaderNames.Location] = location, [HeaderNames.ETag] = EntityTag.Of(version, body) },
        };
    }

    public Task ExecuteAsync(HttpContext context) => AsText().ExecuteAsync(context);

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder)
    {
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status201Created, typeof(T), [AnswerText.Json]));
        builder.Metadata.Add(new GivesETag());
    }
}

/// <summary>Something was done, and this is how it stands now: 200.</summary>
public sealed class Done<T>(T value) : IResult, IAnswerAsText, IEndpointMetadataProvider
{
    public T Value => value;

    public AnswerText AsText() => new() { Status = StatusCodes.Status200OK, Body = JsonSerializer.Serialize(value, WorkshopJson.Options) };

    public Task ExecuteAsync(HttpContext context) => AsText().ExecuteAsync(context);

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder) =>
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(T), [AnswerText.Json]));
}

/// <summary>The endpoint's answers carry an ETag.</summary>
public sealed record GivesETag;

/// <summary>Short forms for use cases.</summary>
public static class Answer
{
    public static Seen<T> Seen<T>(long version, T value) => new(version, value);

    public static Made<T> Made<T>(string location, long version, T value) => new(location, version, value);

    public static Done<T> Done<T>(T value) => new(value);
}
