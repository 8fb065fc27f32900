using System.Collections.Immutable;

namespace Workshop.Core.Words;

/// <summary>Words of checks after wear.</summary>
internal static class WearWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
    ];
}
