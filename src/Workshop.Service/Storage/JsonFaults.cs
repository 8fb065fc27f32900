using System.Text;
using System.Text.Json;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage;

/// <summary>What is wrong in a text of JSON, as a pointer (RFC 6901) and a sentence for whoever sent it.</summary>
public static class JsonFaults
{
    public static Fault Of(JsonException error) => new(PointerOfPath(error.Path), Sentence(error));

    /// <summary>A member's place as a JSON Pointer.</summary>
    public static string Pointer(params ReadOnlySpan<string> members)
    {
        var pointer = new StringBuilder();
        foreach (var member in members)
        {
            pointer.Append('/').Append(member.Replace("~", "~0").Replace("/", "~1"));
        }

        return pointer.ToString();
    }

    /// <summary>From the serializer's path, <c>$.readings[0].position</c> or <c>$['odd name']</c>, to <c>/readings/0/position</c>.</summary>
    internal static string PointerOfPath(string? path)
    {
        var pointer = new StringBuilder();
        var rest = path.AsSpan();
        rest = rest.StartsWith("$") ? rest[1..] : rest;
        while (rest.Length > 0)
        {
            ReadOnlySpan<char> member;
            if (rest.StartsWith("['"))
            {
                var end = rest.IndexOf("']");
                member = end < 0 ? rest[2..] : rest[2..end];
                rest = end < 0 ? [] : rest[(end + 2)..];
            }
            else if (rest[0] == '[')
            {
                var end = rest.IndexOf(']');
                member = end < 0 ? rest[1..] : rest[1..end];
                rest = end < 0 ? [] : rest[(end + 1)..];
            }
            else
            {
                rest = rest[0] == '.' ? rest[1..] : rest;
                var end = rest.IndexOfAny('.', '[');
                member = end < 0 ? rest : rest[..end];
                rest = end < 0 ? [] : rest[end..];
            }

            pointer.Append(Pointer(member.ToString()));
        }

        return pointer.ToString();
    }

    // Our own converters speak in sentences; the serializer names .NET types, which say nothing to a tablet.
    private static string Sentence(JsonException error)
    {
        var message = error.Message;
        if (error.GetType() != typeof(JsonException) || error.InnerException is JsonException)
        {
            return Between(message, "Duplicate property '", "'") is { } inText ? $"'{inText}' is there twice." : "This is not readable JSON.";
        }

        if (Between(message, "The JSON value could not be converted to ", ". Path") is { } type)
        {
            return $"This is not {Wanted($"{type} {error.InnerException?.Message}")}.";
        }

        if (Between(message, "missing required properties including: ", ".") is { } missing)
        {
            return $"Missing: {missing.Replace("'", "", StringComparison.Ordinal)}.";
        }

        return Between(message, "Duplicate property '", "'") is { } twice ? $"'{twice}' is there twice."
            : message.Contains("could not be mapped to any .NET member", StringComparison.Ordinal) ? "There is no such member."
            : message.Contains("allow null", StringComparison.OrdinalIgnoreCase) ? "This must not be null."
            : message.Contains("Path:", StringComparison.Ordinal) ? "This is not what belongs here."
            : message;
    }

    // In a record's constructor the serializer names the record, and only the inner message says what was wanted.
    private static string Wanted(string said) =>
        said.Contains("Immutable", StringComparison.Ordinal) || said.Contains("[]", StringComparison.Ordinal) ? "a list"
        : said.Contains("oolean", StringComparison.Ordinal) ? "true or false"
        : said.Contains("Int32", StringComparison.Ordinal) || said.Contains("Int64", StringComparison.Ordinal) ? "a whole number"
        : said.Contains("Decimal", StringComparison.Ordinal) || said.Contains("Double", StringComparison.Ordinal) || said.Contains("as a number", StringComparison.Ordinal) ? "a number"
        : said.Contains("System.String", StringComparison.Ordinal) || said.Contains("as a string", StringComparison.Ordinal) ? "text"
        : "what belongs here";

    private static string? Between(string text, string before, string after)
    {
        var start = text.IndexOf(before, StringComparison.Ordinal);
        if (start < 0)
        {
            return null;
        }

        start += before.Length;
        var end = text.IndexOf(after, start, StringComparison.Ordinal);
        return end < 0 ? text[start..] : text[start..end];
    }
}
