using System.Reflection;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Workshop.Core.Journal;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.Bodies;

/// <summary>
/// A JSON body read into <typeparamref name="T"/>. What cannot be read is answered before the endpoint runs: 415 another
/// media type, 413 too large, 400 no JSON, 422 with every field that is not right. Limits on members are the attributes
/// StringLength, Range, Length and RegularExpression, which the API description shows too.
/// </summary>
public sealed class JsonBody<T> : IBindableFromHttpContext<JsonBody<T>>, IEndpointParameterMetadataProvider, IRefusable
    where T : notnull
{
    private readonly T? value;

    private JsonBody(T? value, ReadOnlyMemory<byte> bytes, ProblemHttpResult? refusal)
    {
        this.value = value;
        Bytes = bytes;
        Refusal = refusal;
    }

    public T Value => value ?? throw new InvalidOperationException("A refused body has no value.");

    /// <summary>The body as sent.</summary>
    public ReadOnlyMemory<byte> Bytes { get; }

    public ProblemHttpResult? Refusal { get; }

    public static async ValueTask<JsonBody<T>?> BindAsync(HttpContext context, ParameterInfo parameter)
    {
        var sent = (await SentJson.BindAsync(context, parameter))!;
        return sent.Refusal is { } refusal ? new JsonBody<T>(default, default, refusal) : Read(sent.Bytes);
    }

    public static JsonBody<T> Read(ReadOnlyMemory<byte> bytes)
    {
        if (!JsonText.TryParse(bytes, out var document, out var refusal))
        {
            return new JsonBody<T>(default, bytes, refusal);
        }

        using (document)
        {
            var faults = JsonFields.Check(document.RootElement, typeof(T));
            if (faults.Count > 0)
            {
                return new JsonBody<T>(default, bytes, Problems.BadFields(faults));
            }

            try
            {
                return new JsonBody<T>(document.Deserialize<T>(WorkshopJson.Bodies)!, bytes, null);
            }
            catch (JsonException failure)
            {
                return new JsonBody<T>(default, bytes, Problems.BadFields(JsonFaults.Of(failure)));
            }
        }
    }

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) =>
        builder.Metadata.Add(new AcceptsMetadata([SentJson.MediaType], typeof(T)));
}

/// <summary>Collects what an endpoint itself finds wrong in a body that could be read.</summary>
public sealed class FieldFaults
{
    private readonly List<Fault> found = [];

    /// <param name="pointer">JSON Pointer to the field, for example <c>/watch/serial</c>.</param>
    public FieldFaults Require(bool holds, string pointer, string detail)
    {
        if (!holds)
        {
            found.Add(new Fault(pointer, detail));
        }

        return this;
    }

    /// <summary>The answer, or null where nothing was found.</summary>
    public ProblemHttpResult? Refusal => found.Count == 0 ? null : Problems.BadFields(found);
}
