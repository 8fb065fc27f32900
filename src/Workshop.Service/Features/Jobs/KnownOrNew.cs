using System.Collections.Immutable;
using System.Text.Json;
using Workshop.Core.Journal;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>Somebody or something that is known already, by its id, or described for the first time.</summary>
/// <param name="Id">Null where it is described.</param>
/// <param name="Described">Null where it is known.</param>
public sealed record KnownOrNew<T>(string? Id, T? Described) where T : class
{
    private const int IdAtMost = 100;

    /// <summary>Reads a text as an id and an object as a description.</summary>
    /// <returns>What was read, or what is wrong with it; never both.</returns>
    public static (KnownOrNew<T>? Value, ImmutableArray<Fault> Faults) Read(JsonElement sent, string pointer)
    {
        switch (sent.ValueKind)
        {
            case JsonValueKind.String when sent.GetString() is { Length: > 0 and <= IdAtMost } id:
                return (new KnownOrNew<T>(id, null), []);
            case JsonValueKind.Object:
                var faults = JsonFields.Check(sent, typeof(T));
                return faults.Count > 0
                    ? (null, [.. faults.Select(fault => fault with { Pointer = pointer + fault.Pointer })])
                    : (new KnownOrNew<T>(null, sent.Deserialize<T>(WorkshopJson.Bodies)), []);
            default:
                return (null, [new Fault(pointer, "This is the id of one that is known, as text, or an object that describes it")]);
        }
    }
}
