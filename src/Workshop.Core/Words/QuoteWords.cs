using System.Collections.Immutable;
using Workshop.Core.Quotes;

namespace Workshop.Core.Words;

/// <summary>Words of quotes, deliveries and disputes.</summary>
internal static class QuoteWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<QuoteLineKind>("quoteLineKind",
            ("work", "Arbeit"), ("part", "Teil"), ("case", "Gehäuse"), ("option", "Zusatz")),
        WordList.Of<CustomersChoice>("customersChoice",
            ("return", "send it back", "zurückgeben"), ("scrap-value", "keep it for its scrap value", "zum Materialwert überlassen"), ("ask-me", "ask me", "nachfragen")),
        WordList.Of("priceChange",
            ("borne-by-the-shop", "trägt die Werkstatt"), ("new-version-needed", "neuer Kostenvoranschlag nötig")),
    ];
}
