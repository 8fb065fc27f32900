using System.Collections.Immutable;
using Workshop.Core.Cleaning;

namespace Workshop.Core.Words;

/// <summary>Words of the cleaning room.</summary>
internal static class CleaningRoomWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<RunState>("runState",
            ("planned", "geplant"), ("running", "im Gang"), ("finished", "fertig"), ("aborted", "abgebrochen")),
        WordList.Of<MachineKind>("machineKind",
            ("movement", "for movements", "für Werke"), ("case", "for cases", "für Gehäuse")),
        WordList.Of<TurnSpeed>("turnSpeed",
            ("slow", "langsam"), ("normal", "normal")),
        WordList.Of<WashVerdict>("washVerdict",
            ("yes", "ja"), ("short", "kurz"), ("ask", "nachfragen"), ("no", "nein"), ("never", "nie")),
        WordList.Of<WashFault>("washFault",
            ("never-washed", "wird nie gewaschen"), ("other-machine", "another kind of machine", "andere Art von Maschine"), ("fluid", "Flüssigkeit"),
            ("fluid-unknown", "unbekannte Flüssigkeit"), ("minutes", "Minuten"), ("speed", "Drehzahl"), ("warmth", "Wärme"), ("ultrasound", "Ultraschall"),
            ("drying", "Trocknen"), ("no-such-jar", "kein solcher Behälter")),
        WordList.Of<ProposedBecause>("proposedBecause",
            ("urgent", "dringend"), ("promised-first", "promised first of what waits", "zuerst zugesagt"), ("fills-a-place", "bears the same programme, and there is a place", "verträgt dasselbe Programm, und es ist Platz"),
            ("alone", "shares a run with nothing", "teilt den Lauf mit nichts")),
    ];
}
