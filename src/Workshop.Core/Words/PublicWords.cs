using System.Collections.Immutable;
using Workshop.Core.PublicPage;

namespace Workshop.Core.Words;

/// <summary>Words of what customers see of their watch.</summary>
internal static class PublicWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<PublicStage>("publicStage",
            ("expected", "erwartet"), ("received", "eingetroffen"), ("being-examined", "wird untersucht"), ("your-decision", "Ihre Entscheidung"), ("approved", "zugesagt"),
            ("waiting-for-part", "waiting for a part", "wartet auf ein Teil"), ("at-the-watchmaker", "beim Uhrmacher"), ("case-in-work", "Gehäuse in Arbeit"),
            ("being-tested", "wird geprüft"), ("final-control", "Endkontrolle"), ("ready", "bereit"), ("on-its-way", "unterwegs"), ("yours-again", "wieder bei Ihnen"),
            ("returned", "zurückgegeben")),
        WordList.Of<WaitingOn>("waitingOn",
            ("you", "Sie"), ("part", "a part", "ein Teil"), ("us", "uns"), ("nobody", "niemanden")),
        WordList.Of<WaitingFor>("waitingFor",
            ("decision", "your decision", "Ihre Entscheidung"), ("deposit", "the deposit", "die Anzahlung"), ("information", "something we have to know", "eine Angabe, die uns fehlt"),
            ("payment", "the payment", "die Zahlung"), ("collection", "collection", "die Abholung"), ("part", "a part", "ein Teil"),
            ("outside-firm", "work outside the house", "eine Arbeit außer Haus"), ("claim", "your report", "Ihre Meldung")),
        WordList.Of("publicView",
            ("status", "Stand"), ("status-and-amounts", "Stand und Beträge"), ("decide", "to decide", "zum Entscheiden")),
        WordList.Of("publicClaimState",
            ("reported", "gemeldet"), ("received", "eingetroffen"), ("decided", "entschieden")),
        WordList.Of<SecondFactor>("secondFactor",
            ("either", "postcode or telephone", "Postleitzahl oder Telefon"), ("postcode", "Postleitzahl"), ("telephone", "Telefon")),
    ];
}
