using System.Collections.Frozen;
using System.Text;

namespace Workshop.Core.Words;

/// <summary>
/// The written form of a closed word list: an enum member <c>DialAndHands</c> is the word <c>dial-and-hands</c>
/// in JSON, in gates, in sentences and in the database.
/// </summary>
public static class Word
{
    /// <summary>The word of an enum member, in lower case with hyphens.</summary>
    public static string Of<T>(T member) where T : struct, Enum => Table<T>.Words[member];

    /// <summary>The member a word names, or null when the list has no such word.</summary>
    public static T? Read<T>(string? word) where T : struct, Enum =>
        word is not null && Table<T>.Members.TryGetValue(word, out var member) ? member : null;

    /// <summary>Every word of a list, in the order of its declaration.</summary>
    public static IEnumerable<string> All<T>() where T : struct, Enum => Enum.GetValues<T>().Select(Of);

    /// <summary>The word an enum member of this name has.</summary>
    public static string Hyphenated(string name)
    {
        var text = new StringBuilder(name.Length + 4);
        foreach (var letter in name)
        {
            if (char.IsUpper(letter) && text.Length > 0)
            {
                text.Append('-');
            }

            text.Append(char.ToLowerInvariant(letter));
        }

        return text.ToString();
    }

    private static class Table<T> where T : struct, Enum
    {
        public static readonly FrozenDictionary<T, string> Words =
            Enum.GetValues<T>().ToFrozenDictionary(member => member, member => Hyphenated(member.ToString()));

        public static readonly FrozenDictionary<string, T> Members =
            Words.ToFrozenDictionary(pair => pair.Value, pair => pair.Key, StringComparer.Ordinal);
    }
}
