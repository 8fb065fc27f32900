using System.Collections.Immutable;
using Workshop.Core.WearChecks;

namespace Workshop.Core.Words;

/// <summary>Words of checks after wear.</summary>
internal static class WearWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<WearNotice>("wearNotice",
            ("midnights-differ", "midnights do not agree", "Mitternächte stimmen nicht"), ("date-did-not-jump", "the date did not jump", "Datum hat nicht geschaltet"),
            ("hands-not-aligned", "hands not aligned", "Zeiger stehen nicht überein"), ("mist", "mist under the glass", "Beschlag unter dem Glas"),
            ("noise", "noise", "Geräusch"), ("unlike-prediction", "unlike what the bench foretells", "anders als am Werktisch vorausgesagt"),
            ("clock-stepped", "the service's clock jumped", "Uhr des Dienstes ist gesprungen"), ("few-midnights", "fewer midnights than a week's check asks for", "weniger Mitternächte, als die Wochenprobe verlangt"),
            ("few-resets", "fewer resets than a week's check asks for", "weniger Rückstellungen, als die Wochenprobe verlangt"), ("resets-wrong", "not every reset was right", "nicht jede Rückstellung stimmte")),
        WordList.Of<StartDependsOn>("startDependsOn",
            ("hours", "opening hours", "Öffnungszeiten"), ("winder-place", "a free place on the winder", "freier Platz am Uhrenbeweger"), ("people", "people of the house", "Leute im Haus")),
    ];
}
