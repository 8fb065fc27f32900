using System.Collections.Frozen;
using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using System.Text.Json.Serialization.Metadata;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using Workshop.Service.Http.Description;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Events;

/// <summary>
/// The JSON Schema (2020-12) of every event's <c>data</c>, made from the record that holds it. Members nobody knows are allowed: a newer
/// tablet says more.
/// </summary>
public static class EventSchemas
{
    private static readonly FrozenDictionary<string, string> Schemas =
        EventCatalogue.Rows.ToFrozenDictionary(row => row.Type, Make, StringComparer.Ordinal);

    /// <summary>The schema as text; null for a type nobody knows.</summary>
    public static string? Of(string type) => Schemas.GetValueOrDefault(type);

    private static string Make((string Type, Type Record, SentBy SentBy) row)
    {
        var options = new JsonSchemaExporterOptions { TreatNullObliviousAsNonNullable = true, TransformSchemaNode = SayValues };
        var schema = WorkshopJson.Stored.GetJsonSchemaAsNode(row.Record, options).AsObject();
        var members = schema["properties"]?.AsObject() ?? new JsonObject();
        if (row.SentBy == SentBy.Bench)
        {
            foreach (var (name, common) in WorkshopJson.Stored.GetJsonSchemaAsNode(typeof(Manner), options)["properties"]!.AsObject())
            {
                members[name] = common!.DeepClone();
            }

            members[EventCodec.Proof] = new JsonObject { ["type"] = "string", ["pattern"] = "^[0-9]{4,8}$" };
        }

        schema.Remove("properties");
        var whole = new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["$id"] = $"/events/{row.Type}.json",
            ["title"] = row.Type,
            ["type"] = "object",
            ["properties"] = members,
        };
        if (schema["required"] is { } required)
        {
            whole["required"] = required.DeepClone();
        }

        return whole.ToJsonString(WorkshopJson.Options);
    }

    // The exporter knows nothing of what a converter of ours writes. A position may be told by words that only the shop knows.
    private static JsonNode SayValues(JsonSchemaExporterContext context, JsonNode schema) =>
        context.TypeInfo.Type == typeof(Position)
            ? new JsonObject
            {
                ["type"] = "string",
                ["minLength"] = 1,
                ["description"] = "Where the crown points, a symbol of ISO 3158, or a word of the shop's own.",
                ["examples"] = new JsonArray([.. Word.All<Position>().Concat(PositionWords.Symbols).Select(word => (JsonNode)word)]),
            }
            : ValueSchemas.JsonSchemaOf(context.TypeInfo.Type) ?? WithElements(context.TypeInfo, schema);

    // A list of values with a converter of ours comes without a word about its elements.
    private static JsonNode WithElements(JsonTypeInfo type, JsonNode schema)
    {
        var list = Nullable.GetUnderlyingType(type.Type) is { } present ? type.Options.GetTypeInfo(present) : type;
        if (list is { Kind: JsonTypeInfoKind.Enumerable, ElementType: { } element } && schema is JsonObject said && !said.ContainsKey("items") && ValueSchemas.JsonSchemaOf(element) is { } value)
        {
            said["items"] = value;
        }

        return schema;
    }
}
