using System.Collections.Immutable;
using Workshop.Core.Warranties;

namespace Workshop.Core.Words;

/// <summary>Words of warranties and of the rule sets they are counted by.</summary>
internal static class WarrantyWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<WarrantyStart>("warrantyStart",
            ("hand-over", "hand-over", "Abgabe"), ("ready-uncollected", "ready and not collected", "bereit und nicht abgeholt"),
            ("presumed-delivered", "presumed delivery", "vermutete Zustellung")),
        WordList.Of<DeliveryProof>("deliveryProof",
            ("carrier", "the carrier", "der Zusteller"), ("signature", "a signature", "eine Unterschrift"), ("customer", "the customer", "der Kunde")),
        WordList.Of<WarrantyFrom>("warrantyFrom",
            ("hand-over", "hand-over", "Abgabe")),
        WordList.Of<FirstDay>("firstDay",
            ("not-counted", "nicht mitgezählt"), ("counted", "mitgezählt")),
        WordList.Of<MonthEnd>("monthEnd",
            ("last-day-of-month", "letzter Tag des Monats")),
        WordList.Of<RollWhen>("rollWhen",
            ("never", "nie"), ("closed-day", "an geschlossenen Tagen"), ("weekend-or-holiday", "an Wochenenden und Feiertagen")),
        WordList.Of<ClaimDay>("claimDay",
            ("reported", "Tag der Meldung")),
        WordList.Of<ExtensionRule>("extensionRule",
            ("none", "keine Verlängerung"), ("days-in-house", "days in the house", "Tage im Haus"), ("fixed", "a fixed term", "eine feste Frist")),
        WordList.Of<StayFrom>("stayFrom",
            ("received", "eingetroffen")),
        WordList.Of<StayUntil>("stayUntil",
            ("returned", "zurückgegeben")),
        WordList.Of<LastDayOf>("lastDayOf",
            ("later-of-all", "der späteste Tag")),
        WordList.Of<FollowsTheWatch>("followsTheWatch",
            ("always", "geht mit der Uhr"), ("with-intact-seal", "geht mit der Uhr, wenn das Siegel unversehrt ist"), ("never", "geht nicht mit der Uhr")),
        WordList.Of("goodwill",
            ("magnetism-removed", "entmagnetisiert")),
        WordList.Of<HowSure>("howSure",
            ("read", "gelesen"), ("second-hand", "aus zweiter Hand"), ("from-memory", "aus dem Gedächtnis")),
    ];
}
