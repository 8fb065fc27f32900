using System.Collections.Immutable;

namespace Workshop.Core.Words;

/// <summary>Words of quotes, deliveries and disputes.</summary>
internal static class QuoteWords
{
    public static ImmutableArray<WordList> Lists { get; } = [];
}
