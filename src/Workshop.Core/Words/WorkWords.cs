using System.Collections.Immutable;
using Workshop.Core.Agenda;
using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Money;
using Workshop.Core.Notes;
using Workshop.Core.Pieces;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;
using Workshop.Core.Reports;
using Workshop.Core.Route;
using Workshop.Core.Scans;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Trials;
using Workshop.Core.Warranties;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;

namespace Workshop.Core.Words;

/// <summary>Words of the work: those that events and rules themselves are written with.</summary>
internal static class WorkWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<Stage>("stage",
            ("expected", "erwartet"), ("intake", "Annahme"), ("diagnosis", "Diagnose"), ("quote", "Kostenvoranschlag"), ("queue", "Warteschlange"),
            ("takedown", "Zerlegen"), ("cleaning", "Reinigen"), ("inspection", "Teilekontrolle"), ("rebuild", "Zusammenbau"), ("regulation", "Regulieren"),
            ("case-strip", "Gehäuse zerlegen"), ("case-work", "Gehäusearbeit"), ("gaskets", "Dichtungen"), ("dial-and-hands", "Zifferblatt und Zeiger"),
            ("casing", "Einschalen"), ("water-test", "Dichtheitsprüfung"), ("wear-check", "Trageprobe"), ("reserve-and-functions", "Reserve und Funktionen"),
            ("final-control", "Endkontrolle"), ("settlement", "Abrechnung"), ("ready", "bereit"), ("handed-over", "Abgabe"),
            ("return-unrepaired", "Rückgabe unrepariert"), ("closed", "abgeschlossen")),
        WordList.Of<Branch>("branch",
            ("front", "Annahme"), ("movement", "Werk"), ("case", "Gehäuse"), ("assembly", "Fertigstellung"), ("release", "Ausgabe")),
        WordList.Of<StageState>("stageState",
            ("open", "offen"), ("running", "in Arbeit"), ("done", "fertig"), ("failed", "nicht bestanden"), ("void", "hinfällig"), ("ground-lost", "ohne Grundlage"),
            ("before-our-records", "vor unseren Aufzeichnungen")),
        WordList.Of<Position>("position",
            ("dial-up", "Zifferblatt oben"), ("dial-down", "Zifferblatt unten"), ("crown-up", "Krone oben"), ("crown-down", "Krone unten"),
            ("crown-left", "Krone links"), ("crown-right", "Krone rechts")),
        WordList.Of<PositionSet>("positionSet",
            ("three", "drei"), ("five", "fünf"), ("six", "sechs")),
        WordList.Of<WindState>("windState",
            ("full", "fully wound", "voll aufgezogen"), ("one-day", "one day after winding", "einen Tag nach dem Aufzug"), ("part", "partly wound", "teilweise aufgezogen"),
            ("unknown", "unbekannt")),
        WordList.Of<PatternLimit>("patternLimit",
            ("imbalance-from-hairspring", "an imbalance of the balance from a hairspring out of its centre", "eine Unwucht der Unruh von einer nicht mittig atmenden Spirale"),
            ("one-amplitude", "what changes with the amplitude: a second set at another wind would show it", "was sich mit der Amplitude ändert: eine zweite Messung bei anderem Aufzug zeigte es"),
            ("three-verticals", "a swing from anything else, with only three vertical positions", "eine Schwankung von anderem, bei nur drei senkrechten Lagen"),
            ("one-flat", "the flat rate from what one pivot and its endstone do", "den waagrechten Gang von dem, was ein Zapfen und sein Deckstein tun"),
            ("no-flat", "anything about the flat positions: none was measured", "etwas über die waagrechten Lagen: keine wurde gemessen")),
        WordList.Of<TrialCriterion>("trialCriterion",
            ("mean-rate", "mittlerer Gang"), ("mean-variation", "mittlere Gangabweichung"), ("greatest-variation", "größte Gangabweichung"),
            ("vertical-less-horizontal", "vertical less horizontal", "senkrecht minus waagrecht"), ("greatest-from-mean", "greatest difference from the mean", "größter Abstand vom Mittel"),
            ("variation-with-temperature", "variation for each degree", "Gangabweichung je Grad"), ("resumption", "resumption of rate", "Wiederaufnahme des Gangs")),
        WordList.Of<TrialCategory>("trialCategory",
            ("twenty-millimetres-and-over", "20 mm and over", "ab 20 mm"), ("under-twenty-millimetres", "under 20 mm", "unter 20 mm")),
        WordList.Of<PieceKind>("piece",
            ("movement", "Werk"), ("case", "Gehäuse"), ("bezel", "Lünette"), ("back", "Boden"), ("crown-and-pushers", "Krone und Drücker"),
            ("dial-and-hands", "Zifferblatt und Zeiger"), ("bracelet", "Band"), ("links", "Bandglieder"), ("old-parts", "Altteile"), ("new-parts", "Neuteile"),
            ("box-and-papers", "Schachtel und Papiere"), ("other", "anderes")),
        WordList.Of<HoldReason>("hold",
            ("approval", "Zusage des Kunden"), ("parts", "Teile"), ("outside-firm", "auswärtiger Betrieb"), ("customer", "Kunde"), ("payment", "Zahlung"),
            ("person", "fehlende Person"), ("query", "Rückfrage"), ("mix-up", "mix-up", "Verwechslung"), ("damage", "Schaden"), ("loss", "Verlust"),
            ("dispute", "Streitfall"), ("legal", "rechtliche Sperre"), ("other", "anderer Grund")),
        WordList.Of<Strength>("strength",
            ("stop", "hält an"), ("ask", "fragt nach"), ("note", "vermerkt")),
        WordList.Of<GateKind>("gateKind",
            ("job", "about the job", "über den Auftrag"), ("fact", "about the facts of the moment", "über die Umstände")),
        WordList.Of<GateSaid>("gateSaid",
            ("refused", "abgelehnt"), ("asked", "nachgefragt"), ("noted", "Meldung zurückgestellt"), ("flagged", "vermerkt"), ("tapped", "bewusst weiter"),
            ("waived", "davon abgesehen"), ("settled", "settled by a manager", "von der Leitung geklärt")),
        WordList.Of<WearVerdict>("verdict",
            ("pass", "bestanden"), ("outside", "außerhalb"), ("outside-far", "far outside", "weit außerhalb"), ("inconclusive", "nicht entscheidbar"),
            ("stopped", "stehen geblieben"), ("interim", "Zwischenstand"), ("void", "hinfällig"), ("unconfirmed", "unbestätigt"),
            ("invalid-window", "read outside its window", "außerhalb des Zeitfensters abgelesen")),
        WordList.Of<WearCheckKind>("wearCheckKind",
            ("static", "Liegeprobe"), ("worn", "Trageprobe")),
        WordList.Of<WearPlace>("wearPlace",
            ("wrist", "Handgelenk"), ("winder", "Uhrenbeweger"), ("rest", "liegend")),
        WordList.Of<ReadBy>("readBy",
            ("eye", "von Auge"), ("display", "am Gerät"), ("photo", "auf Foto")),
        WordList.Of<TimeReference>("reference",
            ("server", "Zeit des Dienstes"), ("radio", "Funkuhr"), ("other", "andere")),
        WordList.Of<SealState>("seal",
            ("intact", "unversehrt"), ("broken", "gebrochen"), ("never-fitted", "nie angebracht")),
        WordList.Of<WaterTestMethod>("waterTestMethod",
            ("dry", "trocken"), ("vacuum", "Unterdruck"), ("wet", "nass"), ("condensation", "Kondenswasser")),
        WordList.Of<CheckResult>("checkResult",
            ("ok", "in order", "in Ordnung"), ("not-applicable", "trifft nicht zu"), ("exception", "Ausnahme")),
        WordList.Of<Disposition>("disposition",
            ("applied", "zählt"), ("noted", "zurückgestellt")),
        WordList.Of<SettledAs>("settledAs",
            ("happened", "geschehen"), ("did-not-happen", "nicht geschehen")),
        WordList.Of<Severity>("severity",
            ("must", "nötig"), ("should", "empfohlen"), ("optional", "auf Wunsch")),
        WordList.Of<ScrewHead>("screwHead",
            ("raised", "erhaben"), ("flush", "bündig"), ("countersunk", "versenkt")),
        WordList.Of<ScrewFinish>("screwFinish",
            ("polished", "poliert"), ("plain", "matt"), ("blued", "gebläut")),
        WordList.Of<InspectionResult>("inspectionResult",
            ("ok", "in order", "in Ordnung"), ("replace", "ersetzen"), ("rework", "nacharbeiten")),
        WordList.Of<FitDirection>("fitDirection",
            ("theirs-fits-ours", "deren Teil passt hier"), ("ours-fits-theirs", "unser Teil passt dort"), ("both", "both ways", "in beide Richtungen")),
        WordList.Of<PlanDifferenceKind>("planDifference",
            ("missing-step", "Schritt fehlt"), ("extra-step", "Schritt steht nicht im Plan"), ("other-order", "andere Reihenfolge"),
            ("different-count", "andere Anzahl"), ("other-screws", "andere Schrauben")),
        WordList.Of<Audience>("audience",
            ("house", "Haus"), ("customer", "Kunde")),
        WordList.Of<LabelKind>("labelKind",
            ("job", "Auftrag"), ("expected", "expected arrival", "erwarteter Eingang"), ("piece", "Stück"), ("tray", "Tablett"), ("cage", "Reinigungskorb"),
            ("bench", "Werktisch"), ("badge", "Ausweis"), ("word-card", "Wortkarte"), ("machine", "Reinigungsmaschine"), ("fluid-batch", "Flüssigkeitsansatz"),
            ("winder-place", "Platz am Uhrenbeweger")),
        WordList.Of<PromiseReason>("promiseReason",
            ("waited-for-you", "we waited for your answer", "wir warteten auf Ihre Antwort"), ("part", "a part", "ein Teil"), ("supplementary-work", "Zusatzarbeit"),
            ("test-repeated", "a test had to be repeated", "eine Prüfung war zu wiederholen"), ("outside-firm", "auswärtiger Betrieb"),
            ("closure", "the workshop was closed", "Betriebsferien"), ("absence", "Abwesenheit"), ("urgent-work", "dringende Arbeit"), ("other", "anderer Grund")),
        WordList.Of<AnswerChannel>("answerChannel",
            ("desk", "Annahme"), ("telephone", "Telefon"), ("letter", "Brief"), ("mail", "e-mail", "E-Mail"), ("storefront", "Onlineshop"), ("page", "customer's page", "Kundenseite")),
        WordList.Of<PaymentKind>("paymentKind",
            ("deposit", "Anzahlung"), ("balance", "Restbetrag"), ("refund", "Rückzahlung")),
        WordList.Of<PaymentHow>("paymentHow",
            ("cash", "bar"), ("card", "Karte"), ("transfer", "Überweisung"), ("other", "anders")),
        WordList.Of<MoneyKept>("moneyKept",
            ("elsewhere", "anderswo"), ("here", "hier")),
        WordList.Of<HandedOverHow>("handedOverHow",
            ("collected", "abgeholt"), ("dispatched", "versandt")),
        WordList.Of<AgendaLevel>("agendaLevel",
            ("due", "fällig"), ("overdue", "überfällig"), ("manager", "for a manager", "für die Leitung")),
        WordList.Of<AgendaKind>("agendaKind",
            ("wear-check", "Trageprobe"), ("wear-check-fails", "Trageproben nicht bestanden"), ("review", "Meldung zu prüfen"), ("ground-lost", "ohne Grundlage"),
            ("promise", "zugesagter Tag"), ("quote-expiry", "Ablauf des Kostenvoranschlags"), ("hold-until", "look at the hold again", "Sperre wieder ansehen"),
            ("claim-undecided", "Garantiefall unentschieden"), ("wear-report", "a customer's report waits for an answer", "eine Rückmeldung wartet auf Antwort"), ("warranty-over", "Garantie abgelaufen"),
            ("hand-off", "Übergabe ohne Übernahme"), ("orphan", "bei niemandem, den das Haus kennt"), ("query", "Rückfrage an die Leitung"),
            ("with-firm", "with a firm", "bei einer Firma"), ("device-silent", "device not heard", "Gerät meldet sich nicht"),
            ("fluid-old", "fluid grows old", "Flüssigkeit wird alt"), ("fluid-runs", "fluid has had nearly all its runs", "Flüssigkeit hat fast alle Läufe"), ("back-up", "back-up", "Sicherung"),
            ("promise-at-risk", "promised day at risk", "zugesagter Tag gefährdet"), ("mix-up", "perhaps exchanged", "vielleicht vertauscht"),
            ("part-late", "part is late", "Teil kommt zu spät"), ("evening-list", "count the safe", "Tresor zählen"), ("safe-missing", "missing in the safe", "fehlt im Tresor"), ("reserve-test", "reserve test", "Reserveprüfung"),
            ("decider-gone", "whoever decided has died", "wer entschied, ist verstorben"), ("unreachable", "a letter came back", "ein Brief kam zurück"), ("unclaimed", "nobody has come for it", "niemand hat sie abgeholt"),
            ("quote-needed", "new quote needed", "neuer Kostenvoranschlag nötig"), ("dispute", "Streitfall"), ("parcel-lost", "parcel is lost", "Paket verloren"),
            ("arrival-overdue", "ordered watch has not come", "bestellte Uhr ist nicht da"), ("storefront-flagged", "a storefront's message to look at", "Meldung eines Ladens ansehen"), ("erasure-asked", "asks to be forgotten", "möchte gelöscht werden"), ("webhook-stopped", "no messages sent", "Nachrichten gehen nicht hinaus"),
            ("letter-unsent", "a letter could not be sent", "ein Brief ging nicht hinaus")),
        WordList.Of<PromiseMover>("promiseMover",
            ("rule", "Regel"), ("person", "Person")),
        WordList.Of<PromiseRiskReason>("promiseRiskReason",
            ("hold", "Sperre"), ("part", "ein Teil"), ("failed-check", "check not passed", "Prüfung nicht bestanden"), ("work-left", "work left", "restliche Arbeit")),
        WordList.Of<WordCard>("wordCard",
            ("to-cleaning", "zur Reinigung"), ("to-case-work", "zum Gehäuse"), ("to-control", "zur Kontrolle"), ("to-desk", "zur Annahme"), ("given", "gegeben"),
            ("taken", "übernommen"), ("put-down", "hingelegt"), ("started", "begonnen"), ("finished", "fertig"), ("stop-question", "stop, a question", "Halt, eine Frage")),
    ];
}
