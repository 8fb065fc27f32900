using System.Collections.Frozen;
using System.Collections.Immutable;

namespace Workshop.Core.Words;

/// <summary>A word of a closed list and what people call it.</summary>
/// <param name="Word">As it stands in JSON, in gates and in the database.</param>
public sealed record WordTexts(string Word, string English, string German)
{
    public string In(Language language) => language == Language.German ? German : English;

    public static implicit operator WordTexts((string Word, string German) row) => new(row.Word, row.Word.Replace('-', ' '), row.German);

    public static implicit operator WordTexts((string Word, string English, string German) row) => new(row.Word, row.English, row.German);
}

/// <summary>One closed list.</summary>
/// <param name="Name">As clients ask for it, in camelCase.</param>
/// <param name="Enum">The enum whose members are its words; null where it is open text that rules know some words of, or an enum of the service.</param>
public sealed record WordList(string Name, Type? Enum, ImmutableArray<WordTexts> Words)
{
    internal static WordList Of(string name, params ImmutableArray<WordTexts> words) => new(name, null, words);

    internal static WordList Of<T>(string name, params ImmutableArray<WordTexts> words) where T : struct, Enum => new(name, typeof(T), words);
}

/// <summary>Every word that fields of answers and events may hold, in every language. German as watchmakers speak it, from memory.</summary>
public static class WordLists
{
    public static ImmutableArray<WordList> All { get; } = [.. WorkWords.Lists, .. PartWords.Lists, .. HouseWords.Lists, .. WarrantyWords.Lists, .. IntakeWordLists.Lists, .. CleaningRoomWords.Lists, .. RateWords.Lists, .. WearReportWords.Lists, .. WearWords.Lists, .. TestWords.Lists, .. ChartWords.Lists,
        .. PublicWords.Lists, .. OutgoingWords.Lists, .. LetterWords.Lists, .. StorefrontWords.Lists, .. QuoteWords.Lists, .. ExtractWords.Lists, .. RecordingWords.Lists];

    private static readonly FrozenDictionary<string, FrozenDictionary<string, WordTexts>> ByName = All.ToFrozenDictionary(
        list => list.Name, list => list.Words.ToFrozenDictionary(row => row.Word, StringComparer.Ordinal), StringComparer.Ordinal);

    private static readonly FrozenDictionary<Enum, WordTexts> ByMember = All
        .Where(list => list.Enum is not null)
        .SelectMany(list => Members(list.Enum!).Select(pair => KeyValuePair.Create(pair.Member, ByName[list.Name].GetValueOrDefault(pair.Word)
            ?? throw new InvalidOperationException($"The list {list.Name} lacks the word '{pair.Word}'."))))
        .ToFrozenDictionary();

    /// <summary>What people call a member of a closed list.</summary>
    public static string Of(Enum member, Language language) => ByMember[member].In(language);

    /// <summary>What people call a word; the second of a kind, <c>links-2</c>, goes by its number, and a word nobody knows is shown with blanks for hyphens.</summary>
    public static string Of(string list, string word, Language language)
    {
        var words = ByName[list];
        if (words.TryGetValue(word, out var row))
        {
            return row.In(language);
        }

        var numbered = word.LastIndexOf('-');
        return numbered > 0 && word.AsSpan(numbered + 1) is { Length: > 0 } number && !number.ContainsAnyExceptInRange('0', '9') && words.TryGetValue(word[..numbered], out var kind)
            ? $"{kind.In(language)} {number}"
            : word.Replace('-', ' ');
    }

    private static IEnumerable<(Enum Member, string Word)> Members(Type type) =>
        Enum.GetValues(type).Cast<Enum>().Select(member => (member, Word.Hyphenated(member.ToString())));
}
