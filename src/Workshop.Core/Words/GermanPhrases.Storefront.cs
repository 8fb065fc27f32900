namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about orders and arrivals.</summary>
    private static Dictionary<string, string> Storefront => new()
    {
        ["For your parcel"] = "Für Ihr Paket",
        ["Push the crown in; stop the chronograph and set it to zero."] = "Krone eindrücken; Chronograph anhalten und auf null stellen.",
        ["Wrap it softly on its own; nothing may move when you shake the box."] = "Die Uhr einzeln weich einpacken; beim Schütteln darf sich nichts bewegen.",
        ["Put the slip inside. Keep straps, boxes and papers at home unless we asked for them."] = "Den Zettel beilegen. Bänder, Schachteln und Papiere nur mitschicken, wenn wir darum gebeten haben.",
        ["Use a plain, firm box. Write nothing outside that says what is inside."] = "Eine schlichte, feste Schachtel nehmen. Aussen nichts schreiben, was den Inhalt verrät.",
        ["Send it insured for what it is worth and with a signature; keep the receipt."] = "Zum Wert versichert und gegen Unterschrift senden; den Beleg aufheben.",
        ["With a battery, or old luminous paint: ask the carrier first; local rules apply."] = "Mit Batterie oder alter Leuchtmasse: erst den Zusteller fragen; es gelten die örtlichen Vorschriften.",
        ["Inside the parcel"] = "In das Paket",
        ["Outside, nothing else"] = "Aussen, sonst nichts",
        ["Order {0}"] = "Bestellung {0}",
        ["The signature is not that of this message"] = "Die Signatur gehört nicht zu dieser Nachricht",
        ["This watch is not waited for"] = "Diese Uhr wird nicht erwartet",
        ["This watch is here already"] = "Diese Uhr ist schon hier",
        ["There is a storefront of this name"] = "Einen Laden dieses Namens gibt es schon",
        ["Compare what 'differs' names: the timestamp of this attempt, the id, the SHA-256 of the body as it came, the secret; then sign the exact bytes and send them again."] =
            "Vergleichen, was 'differs' nennt: den Zeitstempel dieses Versuchs, die Nummer, den SHA-256 des Inhalts, wie er ankam, das Geheimnis; dann genau diese Bytes signieren und nochmals senden.",
        ["Look at the arrival: it has become a job, or it ended; the answer says which."] = "Die erwartete Uhr ansehen: sie wurde ein Auftrag, oder es kommt keine mehr; die Antwort sagt, was.",
        ["End the arrival as the same watch, or look at the number again; two watches with one number are two jobs without an arrival."] =
            "Die erwartete Uhr als dieselbe beenden, oder die Nummer nochmals ansehen; zwei Uhren mit einer Nummer sind zwei Aufträge ohne Anmeldung.",
        ["Draw it another secret, or choose another name."] = "Ein weiteres Geheimnis ziehen, oder einen anderen Namen wählen.",
    };
}
