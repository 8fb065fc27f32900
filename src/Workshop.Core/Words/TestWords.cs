using System.Collections.Immutable;

namespace Workshop.Core.Words;

/// <summary>Words of function checks, reserve tests, water tests and stops.</summary>
internal static class TestWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
    ];
}
