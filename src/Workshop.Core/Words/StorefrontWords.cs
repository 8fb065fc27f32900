using System.Collections.Immutable;
using Workshop.Core.Orders;

namespace Workshop.Core.Words;

/// <summary>Words of orders and arrivals.</summary>
internal static class StorefrontWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<OrderPaymentKind>("orderPaymentKind",
            ("deposit", "Anzahlung"), ("balance", "Restbetrag")),
        WordList.Of<DisputeEnd>("disputeEnd",
            ("kept", "behalten"), ("paid-back", "zurückgezahlt")),
        WordList.Of<ShipmentTold>("shipmentTold",
            ("sent", "versandt"), ("delivered", "zugestellt"), ("lost", "verloren")),
        WordList.Of<ArrivalStanding>("arrivalStanding",
            ("expected", "erwartet"), ("arrived", "eingetroffen"), ("ended", "beendet")),
        WordList.Of<ArrivalEnd>("arrivalEnd",
            ("cancelled", "storniert"), ("no-longer-ordered", "nicht mehr bestellt"), ("same-watch", "dieselbe Uhr"), ("never-came", "kam nicht"),
            ("sent-back", "zurückgesandt"), ("other", "anderes")),
        WordList.Of<OrderDiffers>("orderDiffers",
            ("work", "another kind of work", "andere Art der Arbeit"), ("serial", "another serial number", "andere Seriennummer")),
        WordList.Of<StorefrontDoor>("storefrontDoor",
            ("post", "gesendet"), ("inbox", "abgeholt")),
        WordList.Of<StorefrontFlag>("storefrontFlag",
            ("unreadable", "nicht lesbar"), ("unknown-type", "unbekannte Art"), ("bad-data", "something missing or wrong", "etwas fehlt oder stimmt nicht"),
            ("source-not-yours", "speaks for another storefront", "spricht für einen anderen Laden"),
            ("event-conflict", "same number, other content", "gleiche Nummer, anderer Inhalt"),
            ("delivery-conflict", "same delivery, other content", "gleiche Lieferung, anderer Inhalt"),
            ("unknown-product", "unbekanntes Produkt"), ("unknown-order", "unbekannte Bestellung"), ("unknown-customer", "unbekannter Kunde"),
            ("unknown-payment", "unbekannte Zahlung"), ("unknown-job", "unbekannter Auftrag"),
            ("old-quote", "old version of a quote", "alte Fassung des Kostenvoranschlags"), ("refused", "nicht möglich"), ("for-review", "anzusehen"),
            ("cancelled-after-arrival", "cancelled, and the watch is here", "storniert, und die Uhr ist hier"),
            ("changed-after-arrival", "ordered otherwise, and the watch is here", "anders bestellt, und die Uhr ist hier"),
            ("erasure-asked", "asks to be forgotten", "möchte gelöscht werden"), ("payment-disputed", "payment disputed", "Zahlung bestritten"),
            ("parcel-lost", "parcel lost", "Paket verloren")),
    ];
}
