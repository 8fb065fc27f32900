using System.Collections.Immutable;

namespace Workshop.Core.Words;

/// <summary>Words of letters, and of the people round a watch.</summary>
internal static class LetterWords
{
    public static ImmutableArray<WordList> Lists { get; } = [];
}
