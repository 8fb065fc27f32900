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

    /// <summary>Values that get no named schema of their own.</summary>
    public static bool IsWrittenInPlace(Type type) => Texts.ContainsKey(Nullable.GetUnderlyingType(type) ?? type);

    public static Task Describe(OpenApiSchema schema, OpenApiSchemaTransformerContext context, CancellationToken cancel)
    {
        var type = context.JsonTypeInfo;
        DescribeValue(schema, type.Type);
        if (type.Kind == JsonTypeInfoKind.Enumerable && schema.Items is null && type.ElementType is { } element)
        {
            schema.Items = ValueOf(element);
        }

        if (type.Kind == JsonTypeInfoKind.Dictionary && schema.AdditionalProperties is null && type.ElementType is { } value)
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

    private static OpenApiSchema ValueOf(Type type)
    {
        var schema = new OpenApiSchema();
        DescribeValue(schema, type);
        return schema;
    }

    private static void DescribeValue(OpenApiSchema schema, Type declared)
    {
        var type = Nullable.GetUnderlyingType(declared) ?? declared;
        var orNull = type != declared ? JsonSchemaType.Null : 0;
        if (Texts.TryGetValue(type, out var text))
        {
            schema.Type = JsonSchemaType.String | orNull;
            schema.Format = text.Format;
            schema.Pattern = text.Pattern;
            schema.Description ??= text.Description;
        }
        else if (type.IsEnum)
        {
            schema.Type = JsonSchemaType.String | orNull;
            schema.Enum = [.. Words(type).Select(word => (JsonNode)word)];
        }
    }

    private static IEnumerable<string> Words(Type list) =>
        ((IEnumerable<string>)typeof(Word).GetMethod(nameof(Word.All))!.MakeGenericMethod(list).Invoke(null, null)!)
        .Where(word => list != typeof(IsoDayOfWeek) || word != "none");
}
