using System.Diagnostics.CodeAnalysis;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Journal;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Http.Bodies;

/// <summary>Reads bytes as JSON, strictly: no name twice in an object, no comments, no text that cannot be kept.</summary>
public static class JsonText
{
    private static readonly JsonDocumentOptions Strictly = new() { AllowDuplicateProperties = false };

    public static bool TryParse(ReadOnlyMemory<byte> bytes, [NotNullWhen(true)] out JsonDocument? document, [NotNullWhen(false)] out ProblemHttpResult? refusal)
    {
        (document, refusal) = (null, null);
        try
        {
            var parsed = JsonDocument.Parse(bytes, Strictly);
            if (AllTextsAreUsable(parsed.RootElement))
            {
                document = parsed;
                return true;
            }

            parsed.Dispose();
            refusal = Unusable();
        }
        catch (JsonException failure)
        {
            refusal = Problems.Of(
                ProblemCatalogue.UnreadableJson,
                failure.LineNumber is { } line ? $"Reading stopped in line {line + 1}, byte {failure.BytePositionInLine + 1}." : "Reading stopped: a member stands twice in one object.");
        }
        catch (InvalidOperationException)
        {
            // Half a surrogate pair within the name of a member: names are compared while parsing.
            refusal = Unusable();
        }

        return false;
    }

    private static ProblemHttpResult Unusable() =>
        Problems.BadFields(new Fault("", "A text holds the character 0 or half a character, which cannot be kept."));

    // The character 0 is legal in JSON, but PostgreSQL keeps no text with it. Half a surrogate pair is no text at all.
    private static bool AllTextsAreUsable(JsonElement value)
    {
        try
        {
            return value.ValueKind switch
            {
                JsonValueKind.String => !value.GetString()!.Contains('\0'),
                JsonValueKind.Array => value.EnumerateArray().All(AllTextsAreUsable),
                JsonValueKind.Object => value.EnumerateObject().All(member => !member.Name.Contains('\0') && AllTextsAreUsable(member.Value)),
                _ => true,
            };
        }
        catch (InvalidOperationException)
        {
            return false;
        }
    }
}
