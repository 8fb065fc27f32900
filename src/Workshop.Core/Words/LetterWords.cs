using System.Collections.Immutable;
using Workshop.Core.Parties;

namespace Workshop.Core.Words;

/// <summary>Words of letters, and of the people round a watch.</summary>
internal static class LetterWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<PartyWay>("partyWay",
            ("email", "e-mail", "E-Mail"), ("telephone", "Telefon"), ("letter", "Brief")),
    ];
}
