using System.Collections.Immutable;
using Workshop.Core.Outgoing;

namespace Workshop.Core.Words;

/// <summary>Words of messages that leave the house.</summary>
internal static class OutgoingWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<SendingVerdict>("sendingVerdict",
            ("delivered", "zugestellt"), ("later", "später"), ("hold-back", "hold back for a while", "eine Weile zurückhalten"), ("gone", "wanted no more", "nicht mehr gewünscht")),
        WordList.Of("signatureFault",
            ("none", "nichts"), ("timestamp-missing", "Zeitstempel fehlt"), ("timestamp-unreadable", "Zeitstempel nicht lesbar"), ("timestamp-too-old", "Zeitstempel zu alt"), ("timestamp-too-new", "Zeitstempel zu neu"), ("id-missing", "Nummer fehlt"),
            ("id-unreadable", "Nummer nicht lesbar"), ("signature-missing", "Signatur fehlt"), ("signature-unreadable", "Signatur nicht lesbar"), ("id-differs", "andere Nummer"), ("timestamp-differs", "anderer Zeitstempel"), ("body-differs", "anderer Inhalt"), ("secret-differs", "anderes Geheimnis"), ("signature-of-something-else", "Signatur von anderem")),
        WordList.Of("endpointState",
            ("enabled", "enabled", "in Betrieb"), ("paused", "paused", "angehalten"), ("disabled", "disabled", "abgeschaltet")),
        WordList.Of("stopReason",
            ("by-hand", "by hand", "von Hand"), ("attempts-exhausted", "every attempt failed", "alle Versuche fehlgeschlagen"), ("gone", "the receiver wants nothing any more", "der Empfänger will nichts mehr")),
        WordList.Of("sendingError",
            ("timed-out", "no answer in time", "keine Antwort in der Frist"), ("name-unknown", "name not found", "Name nicht gefunden"), ("no-connection", "no connection", "keine Verbindung"),
            ("address-refused", "address within the house", "Adresse im Haus"), ("encryption-failed", "encryption failed", "Verschlüsselung misslang"),
            ("answer-unreadable", "answer unreadable", "Antwort unlesbar"), ("redirected", "sent elsewhere", "anderswohin verwiesen"), ("answered", "refused by the receiver", "vom Empfänger abgelehnt")),
    ];
}
