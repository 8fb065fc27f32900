using System.Collections.Immutable;
using Workshop.Core.Letters;
using Workshop.Core.Parties;

namespace Workshop.Core.Words;

/// <summary>Words of letters, and of the people round a watch.</summary>
internal static class LetterWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<PartyWay>("partyWay",
            ("email", "e-mail", "E-Mail"), ("telephone", "Telefon"), ("letter", "Brief")),
        WordList.Of<LetterMoment>("letterMoment",
            ("order-received", "Bestellung eingegangen"), ("kit-sent", "packing sent", "Verpackung gesendet"), ("arrival-asked", "asked where the watch is", "nach der Uhr gefragt"),
            ("received-safely", "gut angekommen"), ("quote-ready", "Kostenvoranschlag bereit"), ("quote-reminder", "quote asked for again", "an den Kostenvoranschlag erinnert"),
            ("quote-expired", "quote has run out", "Kostenvoranschlag abgelaufen"), ("approval-confirmed", "Auftrag bestätigt"), ("supplementary-quote", "Kostenvoranschlag für Zusatzarbeit"),
            ("part-delayed", "a part is late", "ein Teil kommt später"), ("date-changed", "Termin verschoben"), ("tested", "geprüft"), ("ready-to-collect", "bereit zum Abholen"),
            ("ready-reminder", "reminded that it is ready", "ans Abholen erinnert"), ("dispatched", "versandt"), ("handed-over", "abgegeben"),
            ("wear-asked-week", "asked after a week how it runs", "nach einer Woche nach dem Gang gefragt"), ("wear-asked-month", "asked after a month how it runs", "nach einem Monat nach dem Gang gefragt"),
            ("wear-asked-back", "asked whether fast or slow", "gefragt, ob vor oder nach"), ("wear-invitation", "invited to bring it", "zum Vorbeibringen eingeladen"),
            ("claim-received", "Garantiefall eingegangen"), ("claim-decided", "Garantiefall entschieden"), ("warranty-ends-soon", "warranty ends soon", "Garantie endet bald"),
            ("water-test-due", "water test is due", "Dichtheitsprüfung fällig"), ("cell-due", "cell is due", "Batterie fällig"), ("service-due", "service is due", "Service fällig"),
            ("returned-unrepaired", "unrepariert zurückgegeben"), ("refund-owed", "Rückzahlung"), ("payment-asked", "Zahlung erbeten"), ("damage-told", "told of a damage", "von einem Schaden berichtet"),
            ("loss-told", "told of a loss", "von einem Verlust berichtet")),
        WordList.Of("warrantyLine",
            ("movement", "the movement", "Werk"), ("parts-fitted", "the parts fitted", "eingesetzte Teile"), ("water-resistance", "water resistance", "Wasserdichtheit"),
            ("cell", "the cell", "Batterie"), ("rate", "the rate", "Gang"), ("repaired-thing", "what was repaired", "was repariert wurde"), ("new-work", "the new work", "neue Arbeit"),
            ("glued-or-screwed", "parts glued or screwed on", "geklebte und geschraubte Teile"), ("looks", "Aussehen"), ("polish", "Politur")),
        WordList.Of<LetterChannel>("letterChannel",
            ("email", "e-mail", "E-Mail"), ("storefront", "Onlineshop"), ("telephone", "Telefon"), ("post", "by post", "per Post"), ("in-person", "im Gespräch")),
        WordList.Of<LetterSpeaker>("letterSpeaker",
            ("workshop", "Werkstatt"), ("storefront", "Onlineshop"), ("nobody", "niemand")),
        WordList.Of<LetterPermission>("letterPermission",
            ("job", "about this job", "zu diesem Auftrag"), ("care", "care after the work", "Pflege nach der Arbeit")),
        WordList.Of<LetterAudience>("letterAudience",
            ("told", "who is told", "wer Bescheid bekommt"), ("decider", "who decides", "wer entscheidet"), ("payer", "who pays", "wer bezahlt"),
            ("told-and-recipient", "who is told, and who gets it", "wer Bescheid bekommt, und wer sie erhält"), ("owner", "Besitzer")),
        WordList.Of("letterStanding",
            ("waiting", "wartet"), ("going", "goes at the next round", "geht bei der nächsten Runde"), ("said", "gesagt"), ("dropped", "not said", "nicht gesagt"), ("returned", "came back", "kam zurück")),
        WordList.Of<LetterDrop>("letterDrop",
            ("passed", "what it was about has passed", "der Anlass ist vorbei"), ("newer", "a newer one says it", "ein neuerer sagt es"),
            ("said-otherwise", "it stands in another letter", "steht in einem anderen Brief"), ("too-late", "it would be no news any more", "wäre keine Nachricht mehr"),
            ("no-permission", "they did not allow it", "nicht erlaubt"), ("no-contact", "they are not reached by e-mail", "nicht per E-Mail zu erreichen"),
            ("no-address", "no e-mail address is known", "keine E-Mail-Adresse bekannt"), ("deceased", "verstorben"), ("came-back", "a letter came back", "ein Brief kam zurück"),
            ("nobody-writes", "the shop writes nothing of it", "die Werkstatt schreibt davon nichts"), ("given-up", "it could not be sent", "ging nicht hinaus")),
        WordList.Of<LetterWait>("letterWait",
            ("not-yet", "noch nicht fällig"), ("quiet-hours", "Ruhezeit"), ("one-a-day", "one letter a day", "ein Brief am Tag"), ("gift", "Geschenk"), ("held", "gesperrt")),
    ];
}
