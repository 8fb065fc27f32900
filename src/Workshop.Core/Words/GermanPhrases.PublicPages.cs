namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What customers read of their watch.</summary>
    private static Dictionary<string, string> PublicPages => new()
    {
        ["I agree to the work of quote {0} for {1}, tax included."] = "Ich stimme den Arbeiten des Kostenvoranschlags {0} für {1} einschließlich Steuer zu.",
        ["I agree to the work of quote {0} for {1}, tax included, and to a deposit of {2} before it begins."] =
            "Ich stimme den Arbeiten des Kostenvoranschlags {0} für {1} einschließlich Steuer zu, und einer Anzahlung von {2}, bevor sie beginnen.",
        ["tested to {0} bar on {1}"] = "am {1} mit {0} bar geprüft",
        ["not water resistant"] = "nicht wasserdicht",
        ["It falls under the warranty: it is put right free of charge."] = "Es fällt unter die Garantie: Es wird kostenlos behoben.",
        ["It does not fall under the warranty; it is put right free of charge all the same."] = "Es fällt nicht unter die Garantie; es wird trotzdem kostenlos behoben.",
        ["It does not fall under the warranty; the desk tells you why and what can be done."] =
            "Es fällt nicht unter die Garantie; die Annahme sagt Ihnen, weshalb, und was möglich ist.",
        ["The watch came back to us on {0} and is looked at."] = "Die Uhr ist seit {0} wieder bei uns und wird angesehen.",
        ["We have had your report since {0}."] = "Ihre Meldung liegt uns seit {0} vor.",
    };
}
