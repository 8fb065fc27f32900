using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Workshop.Core.Journal;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.Bodies;

/// <summary>
/// A change by JSON Merge Patch (RFC 7396) to a <typeparamref name="T"/>: what is left out stays, null takes away. What cannot be read,
/// and members that <typeparamref name="T"/> does not have, are answered before the endpoint runs.
/// </summary>
public sealed class MergePatch<T> : IBindableFromHttpContext<MergePatch<T>>, IEndpointParameterMetadataProvider, IRefusable
    where T : notnull
{
    public const string MediaType = "application/merge-patch+json";

    private readonly string? patch;

    private MergePatch(string? patch, ProblemHttpResult? refusal)
    {
        this.patch = patch;
        Refusal = refusal;
    }

    public ProblemHttpResult? Refusal { get; }

    public static async ValueTask<MergePatch<T>?> BindAsync(HttpContext context, ParameterInfo parameter)
    {
        var body = await RequestBody.Read(context.Request, MediaType, "application/json");
        return body.Refusal is { } refusal ? new MergePatch<T>(null, refusal) : Read(body.Bytes);
    }

    public static MergePatch<T> Read(ReadOnlyMemory<byte> bytes)
    {
        if (!JsonText.TryParse(bytes, out var document, out var refusal))
        {
            return new MergePatch<T>(null, refusal);
        }

        using (document)
        {
            return document.RootElement.ValueKind == JsonValueKind.Object
                ? new MergePatch<T>(document.RootElement.GetRawText(), null)
                : new MergePatch<T>(null, Problems.BadFields(new Fault("", "This is not an object.")));
        }
    }

    /// <summary>Whether the patch speaks of a member at all, to change it or to take it away.</summary>
    public bool Names(string member) => Patch.ContainsKey(member);

    /// <summary>The value with the patch applied, or what is wrong with the patch.</summary>
    public (T? After, IReadOnlyList<Fault> Faults) Apply(T before)
    {
        var known = WorkshopJson.Bodies.GetTypeInfo(typeof(T)).Properties.Select(member => member.Name).ToHashSet(StringComparer.Ordinal);
        if (Patch.Select(member => member.Key).Where(name => !known.Contains(name)).ToArray() is { Length: > 0 } foreign)
        {
            return (default, [.. foreign.Select(name => new Fault(JsonFaults.Pointer([name]), "There is no such member."))]);
        }

        var merged = Merge(JsonSerializer.SerializeToNode(before, WorkshopJson.Options), Patch);
        var after = JsonSerializer.SerializeToElement(merged, WorkshopJson.Options);
        var faults = JsonFields.Check(after, typeof(T));
        return faults.Count > 0 ? (default, faults) : (after.Deserialize<T>(WorkshopJson.Bodies), []);
    }

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) =>
        builder.Metadata.Add(new AcceptsMetadata([MediaType, "application/json"], typeof(T)));

    private JsonObject Patch => JsonNode.Parse(patch ?? throw new InvalidOperationException("A refused patch changes nothing."))!.AsObject();

    // The algorithm of RFC 7396, section 2.
    private static JsonObject Merge(JsonNode? target, JsonObject patch)
    {
        var merged = target as JsonObject ?? [];
        foreach (var (name, value) in patch)
        {
            if (value is null)
            {
                merged.Remove(name);
            }
            else
            {
                var before = merged[name];
                merged.Remove(name);
                merged[name] = value is JsonObject inner ? Merge(before, inner) : value.DeepClone();
            }
        }

        return merged;
    }
}
