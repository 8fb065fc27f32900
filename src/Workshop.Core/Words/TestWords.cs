using System.Collections.Immutable;
using Workshop.Core.FunctionChecks;
using Workshop.Core.ReserveTests;
using Workshop.Core.Stops;
using Workshop.Core.WaterTests;

namespace Workshop.Core.Words;

/// <summary>Words of function checks, reserve tests, water tests and stops.</summary>
internal static class TestWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<WatchFunction>("function",
            ("date-instant", "Datum springend"), ("date-semi-instant", "Datum halbspringend"), ("date-dragging", "Datum schleichend"), ("day-and-date", "Tag und Datum"),
            ("quick-correction", "Schnellkorrektur"), ("chronograph-start", "Chronograph Start"), ("chronograph-stop", "Chronograph Stopp"),
            ("chronograph-reset", "Chronograph Nullstellung"), ("minute-counter", "Minutenzähler"), ("hour-counter", "Stundenzähler"), ("flyback", "Flyback"),
            ("split", "Schleppzeiger"), ("pusher-force", "Drückerkraft"), ("winding-and-setting", "Aufzug und Zeigerstellung"), ("cannon-pinion", "Minutenrohr"), ("rotor", "Rotor")),
        WordList.Of<FunctionState>("functionState",
            ("open", "not shown yet", "noch nicht gezeigt"), ("right", "in Ordnung"), ("not-right", "nicht in Ordnung"), ("not-fitted", "not fitted", "nicht vorhanden")),
        WordList.Of<FittedTo>("fittedTo",
            ("every", "every watch", "jede Uhr"), ("mechanical", "mechanische Uhren"), ("automatic", "Automatikuhren"), ("calendar", "Uhren mit Kalender"),
            ("chronograph", "Chronographen"), ("some", "some watches", "einzelne Uhren")),
        WordList.Of<ReserveBasis>("reserveBasis",
            ("told", "told at the start", "beim Start gesagt"), ("watch", "written down of this watch", "zu dieser Uhr notiert"), ("calibre", "stated for the calibre", "Angabe zum Kaliber"),
            ("older", "usual for older movements", "üblich für ältere Werke"), ("usual", "usual", "üblich")),
        WordList.Of<ReserveVerdict>("reserveVerdict",
            ("pass", "passed", "bestanden"), ("short", "too short", "zu kurz"), ("inconclusive", "nicht entscheidbar"), ("running-on", "still running", "läuft noch"), ("void", "hinfällig")),
        WordList.Of<ReserveSettling>("reserveSettling",
            ("read-the-day", "read the day that the calendar shows", "den gezeigten Tag ablesen"), ("read-the-hands", "read the hands", "die Zeiger ablesen"),
            ("test-again", "test again, and look shortly before the hours are over", "noch einmal prüfen und kurz vor Ablauf nachsehen")),
        WordList.Of<CrystalMaterial>("crystalMaterial",
            ("acrylic", "Acryl"), ("mineral", "Mineralglas"), ("sapphire", "Saphir")),
        WordList.Of<NeverTested>("neverTested",
            ("acrylic-rating-unknown", "acrylic crystal, rating not known", "Acrylglas ohne bekannte Angabe"), ("crystal-damaged", "crystal damaged", "Glas beschädigt"),
            ("vintage", "vintage watch", "historische Uhr"), ("seal-broken", "seal broken", "Siegel gebrochen"), ("customer-said-not", "the customer said not", "Kunde will es nicht")),
        WordList.Of<WaterCaution>("waterCaution",
            ("acrylic-above-rating", "acrylic crystal above its rating", "Acrylglas über seiner Angabe"), ("acrylic-rating-unknown", "acrylic crystal, rating not known", "Acrylglas ohne bekannte Angabe"),
            ("crystal-damaged", "crystal damaged", "Glas beschädigt"), ("vintage", "vintage watch", "historische Uhr"), ("seal-broken", "seal broken", "Siegel gebrochen"),
            ("customer-said-not", "the customer said not", "Kunde will es nicht"), ("wet-before-dry", "in water before a dry pass", "im Wasser, ehe trocken bestanden"), ("cold-watch", "cold watch", "kalte Uhr")),
        WordList.Of<WaterUnknown>("waterUnknown",
            ("rating", "what it is rated for", "ihre Druckangabe"), ("crystal", "what the crystal is of", "woraus das Glas ist"), ("crystal-condition", "whether the crystal is whole", "ob das Glas heil ist"),
            ("age", "how old it is", "wie alt sie ist"), ("customers-wish", "whether the customer wants it", "ob der Kunde es will")),
        WordList.Of<WaterStep>("waterStep",
            ("empty-case", "empty case", "leeres Gehäuse"), ("vacuum", "Unterdruck"), ("pressure", "Überdruck"), ("condensation", "Kondenstest"), ("in-water", "im Wasser")),
        WordList.Of<WaterValidity>("waterValidity",
            ("valid", "gültig"), ("void-since-opened", "void since the case was opened", "hinfällig, seit das Gehäuse geöffnet wurde"),
            ("not-as-closed", "not of the watch as closed", "nicht an der geschlossenen Uhr"), ("leaks", "undicht")),
        WordList.Of<StopCause>("stopCause",
            ("calendar", "Kalender"), ("hands-or-tooth", "hands touching, or a tooth", "Zeiger streifen oder ein Zahn"), ("minute-counter", "Minutenzähler"), ("winding", "Aufzug"),
            ("escapement-or-dirt", "escapement, dirt, a screw", "Hemmung, Schmutz, eine Schraube"), ("intermittent", "comes and goes", "zeitweilig"), ("other", "andere Ursache"), ("unknown", "not found", "nicht gefunden")),
        WordList.Of<StopTest>("stopTest",
            ("through-midnight", "turn the hands through midnight and feel", "die Zeiger über Mitternacht drehen und fühlen"),
            ("hands-passing", "follow the hands with a loupe as they pass", "die Zeiger beim Überholen mit der Lupe verfolgen"),
            ("counter-jumping", "watch the amplitude while the counter jumps", "die Amplitude beim Springen des Zählers ansehen"),
            ("winding-trial", "from stopped on the winder, then see how long it runs", "aus dem Stillstand auf den Beweger, dann die Laufzeit prüfen"),
            ("look-at-the-train", "open, and look at train, escapement and screws", "öffnen und Räderwerk, Hemmung, Schrauben ansehen"),
            ("week-of-wear", "a week of wear, read every day", "eine Woche tragen, täglich ablesen")),
    ];
}
