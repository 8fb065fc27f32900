using System.Collections.Immutable;

namespace Workshop.Core.Words;

/// <summary>Words of control charts and plots.</summary>
internal static class ChartWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
    ];
}
