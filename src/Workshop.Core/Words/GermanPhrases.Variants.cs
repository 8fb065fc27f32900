namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about kinds of work.</summary>
    private static Dictionary<string, string> Variants => new()
    {
        ["{0} has no {1}"] = "{0} ohne {1}",
        ["{0} rules out {1}"] = "{0} schließt aus: {1}",
        ["It goes back unrepaired: no {0}"] = "Geht unrepariert zurück, ohne {0}",
        ["a manager, by changing the kind of work to {0}"] = "die Leitung, mit der Arbeitsart {0}",
        ["{0}° dial up is under {1}°: offer a service"] = "{0}° Zifferblatt oben, unter {1}°: Revision anbieten",
        ["The movement is in parts; nobody would put it together"] = "Das Werk ist zerlegt; niemand setzte es zusammen",
        ["finish the rebuild, or choose a kind of work that has it"] = "Zusammenbau abschließen oder andere Arbeitsart wählen",
        ["Version {0} was for another kind of work"] = "Fassung {0} galt einer anderen Arbeitsart",
        ["Wind it every day at the same hour."] = "Jeden Tag zur selben Stunde aufziehen.",
        ["A check over {0} days is advised."] = "Eine Probe über {0} Tage ist ratsam.",
        ["A quartz watch has no balance and no lift angle."] = "Eine Quarzuhr hat keine Unruh und keinen Hebungswinkel.",
        ["A quartz watch has no amplitude."] = "Eine Quarzuhr hat keine Amplitude.",
        ["A quartz watch has no beat error."] = "Eine Quarzuhr hat keinen Abfallfehler.",

        // What the gates ask for, and what their refusals are called.
        ["the movement is whole, or the kind of work goes on to put it together"] = "das Werk ist beisammen, oder die Arbeitsart setzt es noch zusammen",
        ["dial up at full wind, the amplitude is not under what this kind of work regulates"] = "Zifferblatt oben, voll aufgezogen: die Amplitude reicht zum Regulieren",
        ["The movement is in parts"] = "Das Werk ist zerlegt",
        ["Finish the rebuild first, or choose a kind of work that has it; where the gate asks, a new event with 'despite' goes on; a manager can waive it."] = "Erst den Zusammenbau abschließen, oder eine Arbeitsart wählen, die ihn hat; wo nachgefragt wird, geht ein neues Ereignis mit 'despite' weiter; die Leitung kann davon absehen.",
        ["The amplitude is too low to regulate"] = "Die Amplitude ist zu klein zum Regulieren",
        ["Offer the kind of work the answer names: a low amplitude is a dry or worn movement; a manager can waive it."] = "Die genannte Arbeitsart anbieten: Eine kleine Amplitude ist ein trockenes oder verbrauchtes Werk; die Leitung kann davon absehen.",
    };
}
