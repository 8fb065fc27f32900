using System.Text;
using System.Text.Json;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage;

/// <summary>What is wrong in a text of JSON, as a pointer (RFC 6901) and a sentence for whoever sent it.</summary>
public static class JsonFaults
{
    public static Fault Of(JsonException error) => new(Pointer(error.Path), Sentence(error));

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
    internal static string Pointer(string? path)
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
        const string Conversion = "The JSON value could not be converted to ";
        if (error.Message.StartsWith(Conversion, StringComparison.Ordinal))
        {
            var type = error.Message[Conversion.Length..].Split(". Path", 2)[0];
            return $"This is not {Wanted(type)}.";
        }

        if (error.Message.Contains("missing required properties", StringComparison.Ordinal))
        {
            var names = error.Message.Split('\'').Where((_, i) => i % 2 == 1 && i > 1);
            return $"Missing: {string.Join(", ", names)}.";
        }

        if (error.Message.Contains("could not be mapped to any .NET member", StringComparison.Ordinal))
        {
            return "There is no such member.";
        }

        if (error.Message.Contains("doesn't allow null", StringComparison.OrdinalIgnoreCase)
            || error.Message.Contains("disallows null", StringComparison.OrdinalIgnoreCase))
        {
            return "This must not be null.";
        }

        return error.InnerException is JsonException or null && !error.Message.Contains("Path:", StringComparison.Ordinal)
            ? error.Message
            : "This is not readable JSON.";
    }

    private static string Wanted(string type) =>
        type.Contains("Immutable", StringComparison.Ordinal) || type.Contains("[]", StringComparison.Ordinal) ? "a list"
        : type.Contains("System.Boolean", StringComparison.Ordinal) ? "true or false"
        : type.Contains("System.Int", StringComparison.Ordinal) ? "a whole number"
        : type.Contains("System.Decimal", StringComparison.Ordinal) || type.Contains("System.Double", StringComparison.Ordinal) ? "a number"
        : type.Contains("System.String", StringComparison.Ordinal) ? "text"
        : "what belongs here";
}
