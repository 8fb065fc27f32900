using System.Collections.Immutable;
using Workshop.Core.Groups;
using Workshop.Core.Takedown;

namespace Workshop.Core.Words;

/// <summary>Words of the watch: its systems, parts, groups and functions, where rules know them by name.</summary>
internal static class PartWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        // ISO 3158: the mark of the dial that is uppermost, for a crown at 3 o'clock; secondary sources, the standard itself was not read.
        // Dial down is FH in later standards of the same committee; workshops also write CB.
        WordList.Of("positionSymbol",
            ("dial-up", "CH", "CH"), ("dial-down", "FH", "FH"), ("crown-up", "3H", "3H"), ("crown-down", "9H", "9H"), ("crown-left", "6H", "6H"), ("crown-right", "12H", "12H")),
        WordList.Of<WatchSystem>("system",
            ("case", "Gehäuse"), ("dial-side", "Zifferblattseite"), ("automatic", "Automatik"), ("chronograph", "Chronograph"), ("power-and-train", "Federhaus und Räderwerk"),
            ("escapement", "Hemmung"), ("keyless", "keyless work", "Aufzug und Zeigerstellung")),
        WordList.Of("group",
            ("balance-on-plate", "Unruh auf Platine"), ("train", "Räderwerk"), ("bridges", "Brücken"), ("chronograph", "Chronograph"), ("automatic", "Automatik"),
            ("calendar", "Kalender"), ("keyless", "keyless work", "Aufzug und Zeigerstellung"), ("screws", "Schrauben"), ("pallets-and-settings", "Anker und Fassungen"),
            ("never-washed", "nie gewaschen"), ("by-hand", "von Hand")),
        WordList.Of("groupFlag",
            ("plain", "ohne Besonderheit"), ("wheels", "Räder"), ("barrel", "Federhaus"), ("shellac", "Schellack"), ("hairspring", "Spirale"), ("reverser", "Wechsler"),
            ("ball-bearing-rotor", "Rotor mit Kugellager"), ("plastic", "Kunststoff"), ("gilt-or-silvered", "vergoldet oder versilbert"), ("light-metal", "Leichtmetall"),
            ("printed-or-painted", "bedruckt oder bemalt"), ("dial-or-hands", "Zifferblatt oder Zeiger"), ("luminous", "Leuchtmasse"),
            ("lubricated-mainspring", "geschmierte Zugfeder"), ("gasket-or-glued", "Dichtung oder geklebt"), ("electronic", "Elektronik"),
            ("unknown-material", "Werkstoff unbekannt"), ("magnetised", "magnetisiert"), ("rusty", "rostig"), ("old-grease", "altes Fett"), ("case-part", "Gehäuseteil")),
        WordList.Of<GroupState>("groupState",
            ("open", "offen"), ("in-run", "in einem Lauf"), ("unknown", "unknown: its run was aborted", "unbekannt: der Lauf wurde abgebrochen"), ("washed", "gewaschen"),
            ("hand-cleaned", "cleaned by hand", "von Hand gereinigt"), ("not-washed", "not to be washed", "nicht zu waschen"), ("replaced", "ersetzt")),
        WordList.Of<WashState>("washState",
            ("waiting", "wartet"), ("washed", "gewaschen"), ("unknown", "unbekannt")),
        WordList.Of<NearBy>("nearBy",
            ("same-bench", "open at the same bench", "am selben Werktisch offen"), ("same-run", "in the same run", "im selben Lauf")),
        WordList.Of<CountPoint>("countAt",
            ("declared", "bei der Aufnahme"), ("loaded", "beim Einlegen"), ("unloaded", "beim Entnehmen"), ("inspection", "bei der Teilekontrolle"), ("rebuild", "beim Zusammenbau")),
        WordList.Of("part",
            ("hands", "Zeiger"), ("dial", "Zifferblatt"), ("date-disc", "Datumscheibe"), ("day-disc", "Tagscheibe"), ("calendar-plate", "Kalenderplatte"),
            ("date-jumper", "Datumraste"), ("hour-wheel", "Stundenrad"), ("minute-wheel", "Wechselrad"), ("cannon-pinion", "Minutenrohr"), ("rotor", "Rotor"),
            ("automatic-bridge", "Automatikbrücke"), ("reversers", "Wechsler"), ("chronograph-bridge", "Chronographenbrücke"), ("chronograph-runner", "Chronographenzentrumrad"),
            ("minute-counter", "Minutenzählrad"), ("hour-counter", "Stundenzählrad"), ("clutch", "Kupplung"), ("hammer", "Herzhebel"), ("balance", "Unruh"),
            ("pallets", "Anker"), ("pallet-bridge", "Ankerbrücke"), ("train-bridge", "Räderwerkbrücke"), ("barrel-bridge", "Federhausbrücke"), ("centre-wheel", "Minutenrad"),
            ("third-wheel", "Kleinbodenrad"), ("fourth-wheel", "Sekundenrad"), ("escape-wheel", "Ankerrad"), ("barrel", "Federhaus"), ("ratchet-wheel", "Sperrrad"),
            ("click", "Sperrkegel"), ("setting-lever", "Winkelhebel"), ("yoke", "Wippe"), ("stem", "Aufzugwelle"), ("main-plate", "Platine"),
            ("let-down", "Entspannen der Zugfeder")),
        WordList.Of("finalCheck",
            ("looks", "Aussehen"), ("no-fibres", "keine Fasern"), ("hands-aligned", "Zeiger ausgerichtet"), ("crown", "Krone"), ("date", "Datum"),
            ("bracelet-and-bars", "Band und Stege"), ("time-set", "Zeit gestellt"), ("accessories-and-old-parts", "Zubehör und Altteile"),
            ("report-and-measurements", "Bericht und Messwerte"), ("water-statement", "Angabe zur Dichtheit"), ("chronograph", "Chronograph"), ("reset-to-zero", "Nullstellung"),
            ("consumption", "Stromaufnahme"), ("end-of-life-step", "Batterieanzeige"), ("cell-voltage", "Zellenspannung")),
        WordList.Of("intakeMember",
            ("declaredValue", "declared value", "Wertangabe"), ("terms", "Bedingungen"), ("polish", "polish: yes or no", "Polieren: ja oder nein"),
            ("polishConfirmed", "polish: asked again", "Polieren: nochmals gefragt"), ("running", "running at arrival", "Gang bei Annahme"), ("photos", "Fotos"),
            ("labelScannedBack", "label scanned back", "Etikett zurückgelesen"), ("consents", "permission to send messages", "Erlaubnis für Nachrichten"),
            ("oldPartsBack", "old parts: back or not", "Altteile: zurück oder nicht"), ("condition", "Zustand bei Annahme"), ("caseSerial", "case serial", "Gehäusenummer")),
        WordList.Of("variant",
            ("full-automatic", "full service, automatic", "Vollrevision Automatik"), ("full-chronograph", "full service, chronograph", "Vollrevision Chronograph"),
            ("full-hand-wound", "full service, hand-wound", "Vollrevision Handaufzug"), ("quartz-exchange", "quartz, movement exchanged", "Quarz, Werktausch"),
            ("quartz-train", "quartz, train overhauled", "Quarz, Räderwerk revidiert"), ("vintage", "historische Uhr"), ("regulation", "nur Regulieren"),
            ("cell-and-seals", "Batterie und Dichtungen"), ("case-or-crystal", "Gehäuse oder Glas"), ("warranty-return", "Garantierücklauf"),
            ("return-unrepaired", "Rückgabe unrepariert")),
    ];
}
