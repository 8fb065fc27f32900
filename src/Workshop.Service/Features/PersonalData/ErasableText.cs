using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using Workshop.Core.Journal;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PersonalData;

/// <summary>Which members of an event's data hold text that goes when its customer is erased: those marked <see cref="ErasableAttribute"/>.</summary>
public static class ErasableText
{
    private static readonly FrozenDictionary<string, ImmutableArray<string>> Members = EventCatalogue.Rows
        .Select(row => (row.Type, Names: ImmutableArray.CreateRange(row.Record.GetProperties()
            .Where(property => property.GetCustomAttribute<ErasableAttribute>() is not null)
            .Select(property => JsonNamingPolicy.CamelCase.ConvertName(property.Name)))))
        .Where(row => !row.Names.IsEmpty)
        .ToFrozenDictionary(row => row.Type, row => row.Names, StringComparer.Ordinal);

    /// <summary>Every event type that has such members.</summary>
    public static ImmutableArray<string> Types => Members.Keys;

    /// <summary>The data without that text: what was told stays a text, an empty one, so that it is read as before.</summary>
    /// <returns>null: there is nothing to erase in it.</returns>
    public static string? Without(string type, string data)
    {
        if (!Members.TryGetValue(type, out var names) || JsonNode.Parse(data) is not JsonObject told)
        {
            return null;
        }

        var found = false;
        foreach (var name in names)
        {
            if (told[name] is JsonValue value && value.TryGetValue<string>(out var text) && text.Length > 0)
            {
                told[name] = "";
                found = true;
            }
        }

        return found ? told.ToJsonString(WorkshopJson.Options) : null;
    }
}
