namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What customers read of their watch.</summary>
    private static Dictionary<string, string> PublicPages => new()
    {
        ["There is no such page"] = "Diese Seite gibt es nicht",
        ["This is not what we know of you"] = "Das ist nicht, was wir von Ihnen wissen",
        ["This cannot be done from the page"] = "Von der Seite aus geht das nicht",
        ["Too many tries were wrong today"] = "Heute waren zu viele Versuche falsch",
        ["tested to {0} bar on {1}"] = "am {1} mit {0} bar geprüft",
        ["not water resistant"] = "nicht wasserdicht",
        ["It falls under the warranty: it is put right free of charge."] = "Es fällt unter die Garantie: Es wird kostenlos behoben.",
        ["It does not fall under the warranty; it is put right free of charge all the same."] = "Es fällt nicht unter die Garantie; es wird trotzdem kostenlos behoben.",
        ["It does not fall under the warranty; the desk tells you why and what can be done."] =
            "Es fällt nicht unter die Garantie; die Annahme sagt Ihnen, weshalb, und was möglich ist.",
        ["The watch came back to us on {0} and is looked at."] = "Die Uhr ist seit {0} wieder bei uns und wird angesehen.",
        ["That is within the limits it left us by."] = "Das liegt in den Grenzen, mit denen sie uns verließ.",
        ["That is outside the limits it left us by: please bring it in, so that we can look."] =
            "Das liegt außerhalb der Grenzen, mit denen sie uns verließ: Bitte bringen Sie sie, damit wir nachsehen können.",
        ["Said so roughly it tells us too little; a reading in seconds over a week would help."] =
            "So grob gesagt hilft es uns zu wenig; eine Ablesung in Sekunden über eine Woche würde helfen.",
        ["Is it fast or slow? Please tell us which."] = "Geht sie vor oder nach? Bitte sagen Sie es uns.",
        ["A watch that stops is to be looked at: please bring it in."] = "Eine Uhr, die stehen bleibt, bringen Sie bitte zu uns.",
        ["Thank you; we have written it down."] = "Danke; wir haben es notiert.",
        ["We have your report. The day of your report counts if the watch arrives by {0}."] =
            "Ihre Meldung liegt uns vor. Der Tag Ihrer Meldung zählt, wenn die Uhr bis {0} eintrifft.",
        ["We have your report, and get in touch with you."] = "Ihre Meldung liegt uns vor; wir melden uns bei Ihnen.",
        ["We have had your report since {0}."] = "Ihre Meldung liegt uns seit {0} vor.",
        ["Give the postcode of your address or the last four digits of your telephone number, as the shop has them; triesLeft says how often today."] =
            "Die Postleitzahl Ihrer Adresse oder die letzten vier Ziffern Ihrer Telefonnummer angeben, wie die Werkstatt sie hat; triesLeft sagt, wie oft heute noch.",
        ["Look at the address again, or ask the desk for a new one; a link that was revoked leads nowhere."] =
            "Die Adresse nochmals ansehen, oder die Annahme um eine neue bitten; ein widerrufener Link führt nirgends hin.",
        ["Call or write to the desk: it knows more than the page says."] = "Die Annahme anrufen oder ihr schreiben: sie weiß mehr, als die Seite sagt.",
        ["Please call the desk, or try again tomorrow: Retry-After says when that begins."] =
            "Bitte die Annahme anrufen, oder morgen nochmals versuchen: Retry-After sagt, ab wann.",
    };
}
