namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    // Recordings of a watch, and what was heard in them.
    private static Dictionary<string, string> Recordings => new()
    {
        ["The recording is empty"] = "Die Aufnahme ist leer",
        ["Look whether the recorder has written anything, and send the file again."] =
            "Nachsehen, ob das Aufnahmegerät etwas geschrieben hat, und die Datei nochmals senden.",
        ["The recording is too large"] = "Die Aufnahme ist zu groß",
        ["Record in mono or with 24 bits; half a minute is enough."] =
            "In Mono oder mit 24 Bit aufnehmen; eine halbe Minute genügt.",
        ["This is no WAV file"] = "Das ist keine WAV-Datei",
        ["Save the recording as WAV, 16 or 24 bits, and send that."] =
            "Die Aufnahme als WAV mit 16 oder 24 Bit speichern und diese senden.",
        ["The recording is not PCM"] = "Die Aufnahme ist nicht PCM",
        ["Save it as WAV with PCM samples; what was compressed once stays inexact, so record anew."] =
            "Als WAV mit PCM speichern; was einmal komprimiert war, bleibt ungenau, also neu aufnehmen.",
        ["The recording describes its samples badly"] = "Die Aufnahme beschreibt ihre Werte falsch",
        ["The recording does not describe its samples"] = "Die Aufnahme beschreibt ihre Werte nicht",
        ["Save it with another program, or send it as it came from the recorder."] =
            "Mit einem anderen Programm speichern, oder senden, wie sie vom Aufnahmegerät kam.",
        ["The recording holds no samples"] = "Die Aufnahme enthält keinen Ton",
        ["Look whether the recorder was stopped properly, and record anew."] =
            "Nachsehen, ob das Aufnahmegerät richtig angehalten wurde, und neu aufnehmen.",
        ["Neither one channel nor two"] = "Weder ein Kanal noch zwei",
        ["Record in mono or in stereo."] = "In Mono oder Stereo aufnehmen.",
        ["A sample rate that is not listened to"] = "Diese Abtastrate wird nicht abgehört",
        ["Record at 44.1, 48 or 96 kHz."] = "Mit 44,1, 48 oder 96 kHz aufnehmen.",
        ["A size of samples that is not listened to"] = "Diese Wortbreite wird nicht abgehört",
        ["Record with 16 or 24 bits."] = "Mit 16 oder 24 Bit aufnehmen.",
        ["The recording contradicts itself"] = "Die Aufnahme widerspricht sich",
        ["The recording ends too early"] = "Die Aufnahme endet zu früh",
        ["Send the file again; the bench still has it."] = "Die Datei nochmals senden; der Werktisch hat sie noch.",
        ["The recording is in too many pieces"] = "Die Aufnahme hat zu viele Stücke",
        ["Save it with another program as a plain WAV."] = "Mit einem anderen Programm als einfaches WAV speichern.",
        ["The recording is too short"] = "Die Aufnahme ist zu kurz",
        ["Record half a minute; five seconds are the least."] = "Eine halbe Minute aufnehmen; fünf Sekunden sind das wenigste.",
        ["The recording is too long"] = "Die Aufnahme ist zu lang",
        ["Record half a minute; sixty seconds are the most."] = "Eine halbe Minute aufnehmen; sechzig Sekunden sind das meiste.",
        ["Nothing is heard at all"] = "Es ist gar nichts zu hören",
        ["Look whether the microphone is plugged in and its level is up."] =
            "Nachsehen, ob das Mikrofon steckt und ausgesteuert ist.",
        ["The recording holds samples that are no numbers"] = "Die Aufnahme enthält Werte, die keine Zahlen sind",
        ["Save it with whole-number samples, 16 or 24 bits."] = "Mit ganzzahligen Werten speichern, 16 oder 24 Bit.",
        ["The recording was not listened to yet"] = "Die Aufnahme wurde noch nicht abgehört",
        ["Look at the recording again in a few seconds, then send the same."] =
            "In einigen Sekunden wieder nach der Aufnahme sehen, dann dasselbe senden.",
        ["No rate was heard in a recording"] = "In einer Aufnahme war kein Gang zu hören",
        ["Record the positions that are named anew, closer to the microphone, or leave them out."] =
            "Die genannten Lagen neu aufnehmen, näher am Mikrofon, oder weglassen.",
        ["These recordings make no set together"] = "Diese Aufnahmen ergeben zusammen keine Messreihe",
        ["Take recordings of one winding, one lift angle and one frequency, one for each position; the answer names what differs."] =
            "Aufnahmen eines Aufzugs, eines Hebungswinkels und einer Schlagzahl nehmen, eine je Lage; die Antwort nennt, was sich unterscheidet.",
        ["No steady pulses were heard"] = "Es waren keine gleichmäßigen Impulse zu hören",
        ["Record a source that ticks evenly for a minute, such as a pulse each second, and give its intervalSeconds."] =
            "Eine Minute lang eine Quelle aufnehmen, die gleichmäßig tickt, etwa jede Sekunde, und ihren Abstand in intervalSeconds nennen.",
        ["It is not said what it was recorded with: the clock is not calibrated. 10 ppm would be 0.86 seconds a day."] =
            "Es ist nicht gesagt, womit aufgenommen wurde: die Uhr ist nicht abgeglichen. 10 ppm wären 0,86 Sekunden am Tag.",
        ["The clock of {0} is not calibrated: 10 ppm would be 0.86 seconds a day."] =
            "Die Uhr von {0} ist nicht abgeglichen: 10 ppm wären 0,86 Sekunden am Tag.",
        ["The clock of {0} runs {1} ppm, ± {2} ppm, measured on {3}: that is long ago, calibrate it anew."] =
            "Die Uhr von {0} geht {1} ppm, ± {2} ppm, gemessen am {3}: das ist lange her, neu abgleichen.",
        ["The clock of {0} runs {1} ppm, ± {2} ppm, measured on {3}."] = "Die Uhr von {0} geht {1} ppm, ± {2} ppm, gemessen am {3}.",
        ["The calibre says {0} vibrations an hour, {1} were heard: which is right?"] =
            "Laut Kaliber {0} Halbschwingungen in der Stunde, zu hören waren {1}: was stimmt?",
    };
}
