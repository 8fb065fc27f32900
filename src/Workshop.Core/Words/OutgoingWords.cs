using System.Collections.Immutable;

namespace Workshop.Core.Words;

/// <summary>Words of messages that leave the house.</summary>
internal static class OutgoingWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
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
