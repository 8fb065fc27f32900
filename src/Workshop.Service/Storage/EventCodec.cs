using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage;

/// <summary>An event's data as read: what it says and how it is meant, or what is wrong with it.</summary>
public sealed record DataReading
{
    /// <summary>Null exactly when there are faults.</summary>
    public WorkshopEvent? Event { get; init; }

    public Manner Manner { get; init; } = Manner.Plain;

    /// <summary>Members of data that nobody knows; kept, and flagged: a newer tablet must not poison its queue.</summary>
    public ImmutableArray<string> UnknownMembers { get; init; } = [];

    /// <summary>Pointers are into <c>data</c>; the pointer is empty where data as a whole is meant.</summary>
    public ImmutableArray<Fault> Faults { get; init; } = [];
}

/// <summary>Between the text of an event's <c>data</c> and the record that holds its content.</summary>
public static class EventCodec
{
    /// <summary>
    /// The member that may stand in every event's data and is in none that is kept: the short number of whoever says it. It is taken out
    /// where events are read, before anything else looks at them.
    /// </summary>
    public const string Proof = "proof";

    // The one character that PostgreSQL keeps in no text.
    private const string EscapedNull = "\\u0000";

    private static readonly FrozenDictionary<string, JsonPropertyInfo> MannerMembers = MembersOf(typeof(Manner));

    private static readonly FrozenDictionary<string, Shape> Shapes =
        EventCatalogue.Rows.ToFrozenDictionary(row => row.Type, row => new Shape(row.Record), StringComparer.Ordinal);

    /// <summary>Reads what a sender wrote. The text itself is kept as it is; nothing is normalised.</summary>
    /// <param name="type">The event's type; one that nobody knows is a fault.</param>
    /// <param name="data">The text of the member <c>data</c>.</param>
    public static DataReading Read(string type, string data)
    {
        if (!Shapes.TryGetValue(type, out var shape))
        {
            return Wrong(new Fault("", $"There is no event of the type '{type}'."));
        }

        try
        {
            using var document = JsonDocument.Parse(data, new JsonDocumentOptions { AllowDuplicateProperties = false });
            return document.RootElement.ValueKind != JsonValueKind.Object ? Wrong(new Fault("", "The data of an event is an object."))
                : data.Contains(EscapedNull, StringComparison.OrdinalIgnoreCase) && HasNull(document.RootElement) ? Wrong(new Fault("", "A text holds the character U+0000."))
                : Read(shape, document.RootElement);
        }
        catch (JsonException error)
        {
            return Wrong(JsonFaults.Of(error));
        }
    }

    /// <summary>Reads what the journal keeps; what was accepted once is read without asking again.</summary>
    /// <exception cref="InvalidDataException">The journal holds a type or content that this program does not know.</exception>
    public static WorkshopEvent ReadKept(string type, string data)
    {
        if (!Shapes.TryGetValue(type, out var shape))
        {
            throw new InvalidDataException($"The journal holds an event of the type '{type}', which this program does not know. A newer one wrote it.");
        }

        try
        {
            return (WorkshopEvent)JsonSerializer.Deserialize(data, shape.Info)!;
        }
        catch (JsonException error)
        {
            throw new InvalidDataException($"The journal holds data of '{type}' that cannot be read at '{JsonFaults.Of(error).Pointer}'.", error);
        }
    }

    /// <summary>The data of an event, with the members that say how it is meant beside its own.</summary>
    public static string Write(WorkshopEvent one, Manner? manner = null)
    {
        if (manner is null || manner == Manner.Plain)
        {
            return JsonSerializer.Serialize(one, Shapes[one.Type].Info);
        }

        var data = JsonSerializer.SerializeToNode(one, Shapes[one.Type].Info)!.AsObject();
        foreach (var (name, value) in JsonSerializer.SerializeToNode(manner, WorkshopJson.Stored)!.AsObject())
        {
            if (value is not (null or JsonArray { Count: 0 }) && !(name == "already" && !manner.Already))
            {
                data[name] = value.DeepClone();
            }
        }

        return data.ToJsonString(WorkshopJson.Stored);
    }

    /// <summary>What was decided, as the column <c>judged</c> keeps it: equal judgements give equal texts, nothing gives <c>{}</c>.</summary>
    public static string WriteJudged(Judged judged) =>
        ReferenceEquals(judged, Judged.Nothing) ? "{}" : JsonSerializer.Serialize(judged, WorkshopJson.Stored);

    public static Judged ReadJudged(string text) =>
        text == "{}" ? Judged.Nothing : JsonSerializer.Deserialize<Judged>(text, WorkshopJson.Stored)!;

    /// <summary>Whether this is a short number: a text of 4 to 8 digits.</summary>
    public static bool IsProof(JsonElement value) =>
        value.ValueKind == JsonValueKind.String && value.GetString() is { Length: >= 4 and <= 8 } digits && digits.All(char.IsAsciiDigit);

    private static DataReading Read(Shape shape, JsonElement data)
    {
        if (data.TryGetProperty(Proof, out var proof) && !IsProof(proof))
        {
            return Wrong(new Fault($"/{Proof}", "A proof is a text of 4 to 8 digits."));
        }

        var unknown = ImmutableArray<string>.Empty;
        var manner = false;
        foreach (var member in data.EnumerateObject())
        {
            var own = shape.Members.ContainsKey(member.Name);
            var common = MannerMembers.ContainsKey(member.Name);
            manner |= common;
            if (!own && !common && member.Name != Proof)
            {
                unknown = unknown.Add(member.Name);
            }
        }

        try
        {
            return new DataReading
            {
                Event = (WorkshopEvent)data.Deserialize(shape.Info)!,
                Manner = manner ? data.Deserialize<Manner>(WorkshopJson.Stored)! : Manner.Plain,
                UnknownMembers = unknown,
            };
        }
        catch (JsonException first)
        {
            return new DataReading { Faults = AllFaults(shape, data, first), UnknownMembers = unknown };
        }
    }

    // The serializer stops at the first fault. Whoever has to mend a form would rather see all of them at once.
    private static ImmutableArray<Fault> AllFaults(Shape shape, JsonElement data, JsonException first)
    {
        var faults = ImmutableArray.CreateBuilder<Fault>();
        foreach (var (name, property) in shape.Members)
        {
            if (property.IsRequired && !data.TryGetProperty(name, out _))
            {
                faults.Add(new Fault(JsonFaults.Pointer([name]), $"'{name}' is missing."));
            }
        }

        foreach (var member in data.EnumerateObject())
        {
            if ((shape.Members.GetValueOrDefault(member.Name) ?? MannerMembers.GetValueOrDefault(member.Name)) is { } property
                && FaultIn(member.Value, property) is { } fault)
            {
                faults.Add(fault with { Pointer = JsonFaults.Pointer([member.Name]) + fault.Pointer });
            }
        }

        return faults.Count > 0 ? [.. faults.OrderBy(fault => fault.Pointer, StringComparer.Ordinal)] : [JsonFaults.Of(first)];
    }

    private static Fault? FaultIn(JsonElement value, JsonPropertyInfo property)
    {
        if (value.ValueKind == JsonValueKind.Null && !property.IsSetNullable && Nullable.GetUnderlyingType(property.PropertyType) is null)
        {
            return new Fault("", "This must not be null.");
        }

        try
        {
            value.Deserialize(property.PropertyType, WorkshopJson.Stored);
            return null;
        }
        catch (JsonException error)
        {
            return JsonFaults.Of(error);
        }
    }

    private static bool HasNull(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.String => value.GetString()!.Contains('\0', StringComparison.Ordinal),
        JsonValueKind.Array => value.EnumerateArray().Any(HasNull),
        JsonValueKind.Object => value.EnumerateObject().Any(member => member.Name.Contains('\0', StringComparison.Ordinal) || HasNull(member.Value)),
        _ => false,
    };

    private static DataReading Wrong(Fault fault) => new() { Faults = [fault] };

    private static FrozenDictionary<string, JsonPropertyInfo> MembersOf(Type record) =>
        WorkshopJson.Stored.GetTypeInfo(record).Properties
            .Where(property => property.Set is not null || property.AssociatedParameter is not null)
            .ToFrozenDictionary(property => property.Name, StringComparer.Ordinal);

    /// <summary>Made when an event of its type is met: made for all types at once, they took half of the first answer after a start.</summary>
    private sealed class Shape(Type record)
    {
        // Two that ask at the same moment make the same; the options keep one of it.
        public JsonTypeInfo Info => field ??= WorkshopJson.Stored.GetTypeInfo(record);

        public FrozenDictionary<string, JsonPropertyInfo> Members => field ??= MembersOf(record);
    }
}
