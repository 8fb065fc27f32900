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
    ];
}
