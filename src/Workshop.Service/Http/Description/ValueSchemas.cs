using System.Text.Json.Nodes;
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
        var declared = context.JsonTypeInfo.Type;
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

        return Task.CompletedTask;
    }

    private static IEnumerable<string> Words(Type list) =>
        ((IEnumerable<string>)typeof(Word).GetMethod(nameof(Word.All))!.MakeGenericMethod(list).Invoke(null, null)!)
        .Where(word => list != typeof(IsoDayOfWeek) || word != "none");
}
