using System.Collections.Immutable;

namespace Workshop.Core.Words;

/// <summary>Words of orders and arrivals.</summary>
internal static class StorefrontWords
{
    public static ImmutableArray<WordList> Lists { get; } = [];
}
