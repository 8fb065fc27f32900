using System.Reflection;
using System.Text.Json;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.Net.Http.Headers;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.Answers;

/// <summary>One thing in a state that has a version: 200 with its ETag, or 304 where the asker has seen just that.</summary>
public sealed class Seen<T>(long version, T value) : IResult, IKeepable, IEndpointMetadataProvider
{
    public T Value => value;

    public KeptAnswer Keep()
    {
        var body = JsonSerializer.Serialize(value, WorkshopJson.Options);
        return new KeptAnswer { Status = StatusCodes.Status200OK, Body = body, ETag = EntityTag.Of(version, body) };
    }

    public Task ExecuteAsync(HttpContext context)
    {
        var answer = Keep();
        if (!HttpMethods.IsGet(context.Request.Method) && !HttpMethods.IsHead(context.Request.Method)
            || !EntityTag.IsNamedBy(context.Request.Headers.IfNoneMatch, answer.ETag!))
        {
            return answer.ExecuteAsync(context);
        }

        context.Response.StatusCode = StatusCodes.Status304NotModified;
        context.Response.Headers[HeaderNames.ETag] = answer.ETag;
        return Task.CompletedTask;
    }

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder)
    {
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(T), [KeptAnswer.Json]));
        builder.Metadata.Add(new GivesETag());
    }
}

/// <summary>Something that was made just now: 201 with its address and its ETag.</summary>
public sealed class Made<T>(string location, long version, T value) : IResult, IKeepable, IEndpointMetadataProvider
{
    public T Value => value;

    public KeptAnswer Keep()
    {
        var body = JsonSerializer.Serialize(value, WorkshopJson.Options);
        return new KeptAnswer { Status = StatusCodes.Status201Created, Body = body, Location = location, ETag = EntityTag.Of(version, body) };
    }

    public Task ExecuteAsync(HttpContext context) => Keep().ExecuteAsync(context);

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder)
    {
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status201Created, typeof(T), [KeptAnswer.Json]));
        builder.Metadata.Add(new GivesETag());
    }
}

/// <summary>The endpoint's answers carry an ETag.</summary>
public sealed record GivesETag;

/// <summary>Short forms for use cases.</summary>
public static class Answer
{
    public static Seen<T> Seen<T>(long version, T value) => new(version, value);

    public static Made<T> Made<T>(string location, long version, T value) => new(location, version, value);
}
