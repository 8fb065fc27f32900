using System.Collections.Immutable;

namespace Workshop.Core.Words;

/// <summary>Words about recordings of a watch.</summary>
internal static class RecordingWords
{
    public static ImmutableArray<WordList> Lists { get; } = [];
}
