using System.Collections.Immutable;
using Workshop.Core.Recordings;

namespace Workshop.Core.Words;

/// <summary>Words about recordings of a watch.</summary>
internal static class RecordingWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<RecordingState>("recordingState", ("waiting", "wartet"), ("listened", "abgehört"), ("failed", "missglückt")),
        WordList.Of<ListeningFailure>("listeningFailure",
            ("took-too-long", "listening took too long", "das Abhören dauerte zu lange"), ("interrupted", "the service ended while it listened", "der Dienst endete beim Abhören"),
            ("no-lift-angle", "the lift angle is not known", "der Hebungswinkel ist nicht bekannt"), ("file-gone", "the file is not where it was put", "die Datei liegt nicht mehr an ihrem Ort")),
        WordList.Of("readingClass", ("ok", "ok", "brauchbar"), ("low", "nothing to act on", "unbrauchbar")),
        WordList.Of("figureConfidence", ("good", "gut"), ("fair", "mäßig"), ("unavailable", "nicht verfügbar")),
        WordList.Of("listeningReason",
            ("clock-uncalibrated", "the recorder's clock is not calibrated", "die Uhr des Aufnahmegeräts ist nicht kalibriert"),
            ("clipped", "the recording is too loud in places", "die Aufnahme ist stellenweise übersteuert"),
            ("streamed-sizes", "the file does not say how long it is", "die Datei sagt nicht, wie lang sie ist"),
            ("no-beat", "no beat is heard", "kein Schlag zu hören"),
            ("more-than-one-watch", "more than one watch is heard", "mehr als eine Uhr zu hören"),
            ("frequency-unusual", "it beats as no watch usually does", "sie schlägt wie keine übliche Uhr"),
            ("frequency-in-doubt", "it may beat twice as fast, with every other beat lost in the noise", "sie schlägt vielleicht doppelt so schnell, und jeder zweite Schlag geht im Rauschen unter"),
            ("beats-not-followed", "the beats cannot be followed", "den Schlägen ist nicht zu folgen"),
            ("not-every-beat-sounds", "not every beat sounds", "nicht jeder Schlag ist zu hören"),
            ("signal-too-weak", "the watch is too quiet", "die Uhr ist zu leise"),
            ("internal-failure", "it could not be evaluated", "sie ließ sich nicht auswerten"),
            ("too-few-beats", "too few beats", "zu wenige Schläge"),
            ("beats-scatter-too-much", "the beats scatter too much", "die Schläge streuen zu sehr"),
            ("not-in-the-whole", "not in the whole recording", "nicht in der ganzen Aufnahme"),
            ("rate-uncertain", "the rate is too uncertain", "der Gang ist zu unsicher"),
            ("rate-from-whole-beats", "rate from whole beats: it may follow the amplitude", "Gang aus ganzen Schlägen: er kann der Amplitude folgen"),
            ("amplitude-unlocking-not-found", "amplitude: the unlocking is not found", "Amplitude: die Auslösung ist nicht zu finden"),
            ("amplitude-unlocking-may-be-hidden", "amplitude: the unlocking may be hidden", "Amplitude: die Auslösung ist vielleicht verdeckt"),
            ("amplitude-drop-in-doubt", "amplitude: the drop is in doubt", "Amplitude: der Abfall ist zweifelhaft"),
            ("amplitude-tick-and-tock-disagree", "amplitude: tick and tock disagree", "Amplitude: Tick und Tack widersprechen sich"),
            ("beat-error-noises-not-found", "beat error: the noises are not found", "Abfallfehler: die Geräusche sind nicht zu finden"),
            ("beat-error-tick-and-tock-disagree", "beat error: tick and tock disagree", "Abfallfehler: Tick und Tack widersprechen sich"),
            ("beat-error-drop-faint", "beat error: the drop is too faint", "Abfallfehler: der Abfall ist zu leise"),
            ("beat-error-two-ways-disagree", "beat error: two ways of finding it disagree", "Abfallfehler: zwei Wege widersprechen sich")),
    ];
}
