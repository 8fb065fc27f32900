using System.Collections.Frozen;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;

namespace Workshop.Service.Features.Oneself;

/// <summary>Every word that fields of answers and events may hold, and what people call it.</summary>
/// <param name="Language">The language of the texts: <c>en</c> or <c>de</c>.</param>
/// <param name="Words">
/// By the name of the list, then by the word. <c>positionSymbol</c> holds the symbols of ISO 3158 for the words of <c>position</c>,
/// <c>weekday</c> and <c>month</c> are for dates in words.
/// </param>
public sealed record WordsView(string Language, IReadOnlyDictionary<string, IReadOnlyDictionary<string, string>> Words);

/// <summary>All words of the closed lists in the caller's language.</summary>
public static class ReadWords
{
    // They change with the program alone: the tag's hash tells versions of it apart.
    private const long Version = 1;

    private static readonly FrozenDictionary<Language, WordsView> Views = Enum.GetValues<Language>().ToFrozenDictionary(language => language, In);

    public static Seen<WordsView> Handle(LanguageAsked language, HttpResponse response)
    {
        response.Headers.ContentLanguage = LanguageAsked.Tag(language.Best);
        return Answer.Seen(Version, Views[language.Best]);
    }

    // Lists in the order of the rules, for whoever reads them as a page.
    private static WordsView In(Language language) => new(
        LanguageAsked.Tag(language),
        WordLists.All.ToDictionary(
            list => list.Name, IReadOnlyDictionary<string, string> (list) => list.Words.ToDictionary(row => row.Word, row => row.In(language))));
}
