using System.Collections.Immutable;
using Workshop.Core.Disputes;
using Workshop.Core.Quotes;
using Workshop.Core.Shipments;
using Workshop.Core.Warranties;
using Workshop.Core.Watches;

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
        WordList.Of<DisputeOutcome>("disputeOutcome",
            ("customer-was-right", "der Kunde hatte recht"), ("workshop-was-right", "die Werkstatt hatte recht"), ("agreement", "Einigung"), ("withdrawn", "zurückgezogen")),
        WordList.Of<ParcelDirection>("parcelDirection",
            ("to-workshop", "zur Werkstatt"), ("to-customer", "zum Kunden")),
        WordList.Of<Comeback>("comeback",
            ("repeat", "the same fault again", "derselbe Fehler"), ("new", "another fault", "ein anderer Fehler")),
        WordList.Of<DeliveryBasis>("deliveryBasis",
            ("proven", "nachgewiesen"), ("said", "mitgeteilt"), ("presumed", "vermutet")),
        WordList.Of<EvidenceKind>("evidenceKind",
            ("rate-set", "Gangmessung"), ("wear-check", "check after wear", "Trageprüfung"), ("water-test", "Wasserdichtheitsprüfung"), ("seal", "Siegel"), ("final-control", "Endkontrolle"),
            ("part-fitted", "Teil eingesetzt"), ("declined-option", "abgelehnter Zusatz"), ("customers-words", "customer's words", "Worte des Kunden"), ("photo", "Foto"),
            ("finding", "Befund"), ("damage", "Schaden")),
        WordList.Of<HowOwned>("howOwned",
            ("bought", "gekauft"), ("given", "geschenkt"), ("inherited", "geerbt"), ("other", "anders")),
        WordList.Of("shipmentState",
            ("on-its-way", "unterwegs"), ("delivered", "zugestellt"), ("lost", "verloren")),
        WordList.Of("priceChange",
            ("borne-by-the-shop", "trägt die Werkstatt"), ("new-version-needed", "neuer Kostenvoranschlag nötig")),
        WordList.Of("priceChangeOutcome",
            ("borne-by-the-shop", "trägt die Werkstatt"), ("new-version-needed", "neue Fassung nötig")),
    ];
}
