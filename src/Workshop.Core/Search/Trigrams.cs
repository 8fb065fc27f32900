using System.Collections.Immutable;

namespace Workshop.Core.Search;

/// <summary>Three letters in a row: two spellings of a name share many of them, and any part of a number shares all of its own.</summary>
public static class Trigrams
{
    private const int Letters = 3;

    /// <summary>Of each word with a blank before and behind it: how it begins and ends counts. Each once.</summary>
    public static ImmutableArray<string> OfWords(ImmutableArray<string> words) => [.. words.SelectMany(word => In($" {word} ")).Distinct(StringComparer.Ordinal)];

    /// <summary>Of a number as it is compared; none where it is shorter than three.</summary>
    public static ImmutableArray<string> OfNumber(string? key) => key is null ? [] : [.. In(key).Distinct(StringComparer.Ordinal)];

    private static IEnumerable<string> In(string text)
    {
        for (var i = 0; i + Letters <= text.Length; i++)
        {
            yield return text.Substring(i, Letters);
        }
    }
}
