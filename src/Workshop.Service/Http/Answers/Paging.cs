using System.Buffers.Text;
using System.Globalization;
using System.Reflection;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.Net.Http.Headers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.Answers;

/// <summary>Which part of a list is asked for: <c>?limit=</c> and <c>?cursor=</c>.</summary>
public sealed class Page : IBindableFromHttpContext<Page>, IEndpointParameterMetadataProvider, IRefusable
{
    public const int LimitUsually = 50;
    public const int LimitAtMost = 500;

    /// <summary>Elements wanted, 1 to 500. A store reads one more to know whether there is a next page.</summary>
    public int Limit { get; private init; } = LimitUsually;

    /// <summary>The sort key of the last element seen, part by part, as it was given to <see cref="Paged{T}"/>; empty on the first page.</summary>
    public string[] After { get; private init; } = [];

    public ProblemHttpResult? Refusal { get; private init; }

    public static ValueTask<Page?> BindAsync(HttpContext context, ParameterInfo parameter) =>
        ValueTask.FromResult<Page?>(Read(context.Request.Query["limit"], context.Request.Query["cursor"]));

    public static Page Read(string? limit, string? cursor)
    {
        var wanted = LimitUsually;
        if (limit is not null && (!int.TryParse(limit, NumberStyles.None, CultureInfo.InvariantCulture, out wanted) || wanted is < 1 or > LimitAtMost))
        {
            return new Page { Refusal = Problems.BadParameter("limit", $"This is not a whole number from 1 to {LimitAtMost}.") };
        }

        return cursor is null ? new Page { Limit = wanted }
            : Cursor.Read(cursor) is { } after ? new Page { Limit = wanted, After = after }
            : new Page { Refusal = Problems.BadParameter("cursor", "This is no cursor of this list; take it from the Link of the page before.") };
    }

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) => builder.Metadata.Add(new TakesPage());

    /// <summary>The answer, from what a store has read: at most one element more than the limit.</summary>
    /// <param name="sortKey">What the list is sorted by, ending with something unique; it comes back as <see cref="After"/>.</param>
    public Paged<T> Of<T>(IReadOnlyList<T> read, Func<T, string[]> sortKey) => read.Count > Limit
        ? new Paged<T>([.. read.Take(Limit)], sortKey(read[Limit - 1]))
        : new Paged<T>(read, null);

    /// <summary>The same where the rows that were read are shown as something else.</summary>
    public Paged<T> Mapped<TRow, T>(IReadOnlyList<TRow> read, Func<TRow, T> shown, Func<TRow, string[]> sortKey) => read.Count > Limit
        ? new Paged<T>([.. read.Take(Limit).Select(shown)], sortKey(read[Limit - 1]))
        : new Paged<T>([.. read.Select(shown)], null);
}

/// <summary>A place in a list, in a form that nobody is tempted to build by hand.</summary>
public static class Cursor
{
    private const int LengthAtMost = 1000;

    public static string Write(string[] after) => Base64Url.EncodeToString(JsonSerializer.SerializeToUtf8Bytes(after, WorkshopJson.Options));

    public static string[]? Read(string cursor)
    {
        try
        {
            return cursor.Length is > 0 and <= LengthAtMost && Base64Url.IsValid(cursor)
                && JsonSerializer.Deserialize<string[]>(Base64Url.DecodeFromChars(cursor), WorkshopJson.Options) is { Length: > 0 } parts
                && Array.TrueForAll(parts, part => part is { } text && !text.Contains('\0'))
                    ? parts
                    : null;
        }
        catch (Exception failure) when (failure is JsonException or DecoderFallbackException or InvalidOperationException)
        {
            return null;
        }
    }
}

/// <summary>One page of a list: 200, and <c>Link: &lt;…&gt;; rel="next"</c> (RFC 8288) where more follows.</summary>
/// <param name="next">The sort key of the last element, where there is a next page.</param>
public sealed class Paged<T>(IReadOnlyList<T> items, string[]? next) : IResult, IEndpointMetadataProvider
{
    public Task ExecuteAsync(HttpContext context)
    {
        if (next is not null)
        {
            var query = context.Request.Query
                .Where(parameter => parameter.Key != "cursor")
                .SelectMany(parameter => parameter.Value, (parameter, value) => KeyValuePair.Create(parameter.Key, value))
                .Append(KeyValuePair.Create("cursor", (string?)Cursor.Write(next)));
            context.Response.Headers[HeaderNames.Link] =
                $"<{QueryHelpers.AddQueryString(context.Request.PathBase.Add(context.Request.Path).ToUriComponent(), query)}>; rel=\"next\"";
        }

        return context.Response.WriteAsJsonAsync(new Items<T>(items), WorkshopJson.Options, context.RequestAborted);
    }

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder) =>
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(Items<T>), [AnswerText.Json]));
}

/// <summary>A list as it is answered; an object, so that it can grow.</summary>
public sealed record Items<T>([property: JsonPropertyName("items")] IReadOnlyList<T> List);

/// <summary>The endpoint takes <c>limit</c> and <c>cursor</c>.</summary>
public sealed record TakesPage;
