using System.Collections.Immutable;

namespace Workshop.Core.Words;

/// <summary>Words of messages that leave the house.</summary>
internal static class OutgoingWords
{
    public static ImmutableArray<WordList> Lists { get; } = [];
}
