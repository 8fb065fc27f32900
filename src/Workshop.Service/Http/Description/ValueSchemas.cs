using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Service.Http.Description;

/// <summary>How values of the workshop's own types look in JSON: all of them are texts.</summary>
internal static class ValueSchemas
{
    private static readonly string LabelPattern = $"^[{Label.Alphabet}]{{{Label.Length}}}$";

    private static readonly Dictionary<Type, (string? Format, string? Pattern, string Description)> Texts = new()
    {
        [typeof(Instant)] = ("date-time", null, "A moment, RFC 3339."),
        [typeof(OffsetDateTime)] = ("date-time", null, "A moment with its offset, RFC 3339."),
        [typeof(LocalDate)] = ("date", null, "A day of the workshop's own calendar."),
        [typeof(LocalTime)] = (null, "^[0-2][0-9]:[0-5][0-9](:[0-5][0-9])?$", "A time of day in the workshop's own time zone."),
        [typeof(Duration)] = ("duration", null, "Elapsed time in hours, minutes and seconds, ISO 8601: PT24H."),
        [typeof(Period)] = ("duration", null, "A term of the calendar, ISO 8601: P24M."),
        [typeof(Label)] = (null, LabelPattern, "Eight characters, the last of which checks the others. Lower case, blanks and hyphens are accepted."),
        [typeof(Need)] = (null, "^[a-z-]+!?$", "A stage; with ! where it cannot be tapped through."),
    };

    private static readonly JsonSchemaType[] Whatever =
        [JsonSchemaType.Object, JsonSchemaType.Array, JsonSchemaType.String, JsonSchemaType.Number, JsonSchemaType.Boolean];

    /// <summary>Values that get no named schema of their own.</summary>
    public static bool IsWrittenInPlace(Type type) => Texts.ContainsKey(Nullable.GetUnderlyingType(type) ?? type) || (Nullable.GetUnderlyingType(type) ?? type) == typeof(JsonElement);

    public static Task Describe(OpenApiSchema schema, OpenApiSchemaTransformerContext context, CancellationToken cancel)
    {
        var type = context.JsonTypeInfo;
        if (Nullable.GetUnderlyingType(type.Type) is { } present)
        {
            type = type.Options.GetTypeInfo(present);
        }

        DescribeValue(schema, context.JsonTypeInfo.Type);

        // A list of values with a converter of ours comes without a word about its elements.
        if (type is { Kind: JsonTypeInfoKind.Enumerable, ElementType: { } element } && schema.Type is { } list && list.HasFlag(JsonSchemaType.Array) && SaysNothing(schema.Items))
        {
            schema.Items = ValueOf(element);
        }

        if (type is { Kind: JsonTypeInfoKind.Dictionary, ElementType: { } value } && SaysNothing(schema.AdditionalProperties))
        {
            schema.AdditionalProperties = ValueOf(value);
        }

        // What is computed has no setter, which is taken for one that would accept null.
        if (context.JsonPropertyInfo is { Set: null, AssociatedParameter: null, IsGetNullable: false })
        {
            schema.Type &= ~JsonSchemaType.Null;
        }

        // A member that is null is left out of an answer.
        foreach (var optional in type.Properties.Where(property => property.IsGetNullable))
        {
            schema.Required?.Remove(optional.Name);
        }

        return Task.CompletedTask;
    }

    /// <summary>The JSON Schema of one of these values, for schemas that stand by themselves; null where the type is none of them.</summary>
    public static JsonObject? JsonSchemaOf(Type declared)
    {
        var type = Nullable.GetUnderlyingType(declared) ?? declared;
        if (type.IsEnum)
        {
            return new JsonObject { ["type"] = "string", ["enum"] = new JsonArray([.. Words(type).Select(word => (JsonNode)word)]) };
        }

        if (!Texts.TryGetValue(type, out var text))
        {
            return null;
        }

        var schema = new JsonObject { ["type"] = "string", ["description"] = text.Description };
        if (text.Format is not null)
        {
            schema["format"] = text.Format;
        }

        if (text.Pattern is not null)
        {
            schema["pattern"] = text.Pattern;
        }

        return schema;
    }

    private static OpenApiSchema ValueOf(Type type)
    {
        var schema = new OpenApiSchema();
        DescribeValue(schema, type);
        if (schema.Type is null)
        {
            (schema.Type, schema.Format) = type switch
            {
                _ when type == typeof(string) => (JsonSchemaType.String, null),
                _ when type == typeof(bool) => (JsonSchemaType.Boolean, null),
                _ when type == typeof(int) => (JsonSchemaType.Integer, "int32"),
                _ when type == typeof(long) => (JsonSchemaType.Integer, "int64"),
                _ when type == typeof(double) || type == typeof(decimal) => (JsonSchemaType.Number, "double"),
                _ => ((JsonSchemaType?)null, (string?)null),
            };
        }

        return schema;
    }

    private static bool SaysNothing(IOpenApiSchema? schema) =>
        schema is null or OpenApiSchema { Type: null, Properties: null or { Count: 0 }, OneOf: null or { Count: 0 }, AnyOf: null or { Count: 0 }, Enum: null or { Count: 0 } };

    private static void DescribeValue(OpenApiSchema schema, Type declared)
    {
        var type = Nullable.GetUnderlyingType(declared) ?? declared;
        if (Texts.TryGetValue(type, out var text))
        {
            schema.Type = JsonSchemaType.String | (type != declared ? JsonSchemaType.Null : 0);
            schema.Format = text.Format;
            schema.Pattern = text.Pattern;
            schema.Description ??= text.Description;
        }
        else if (type == typeof(JsonElement))
        {
            schema.AnyOf = [.. Whatever.Select(kind => new OpenApiSchema { Type = kind })];
        }
        else if (type.IsEnum)
        {
            // One schema for a list of words, wherever it is used; whether it may be left out is said there.
            schema.Type = JsonSchemaType.String;
            schema.Enum = [.. Words(type).Select(word => (JsonNode)word)];
        }
    }

    private static IEnumerable<string> Words(Type list) =>
        ((IEnumerable<string>)typeof(Word).GetMethod(nameof(Word.All))!.MakeGenericMethod(list).Invoke(null, null)!)
        .Where(word => list != typeof(IsoDayOfWeek) || word != "none");
}
