using System.Collections.Immutable;
using Workshop.Core.Extracts;
using Workshop.Core.PersonalData;

namespace Workshop.Core.Words;

/// <summary>Words of sealed extracts, of calendar feeds and of what is kept of people.</summary>
internal static class ExtractWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<ExtractKind>("extractLine",
            ("taken-in", "angenommen"), ("work-done", "Arbeit"), ("part-fitted", "Teil ersetzt"), ("measured", "gemessen"), ("worn-check", "Trageprobe"),
            ("water-tested", "auf Dichtheit geprüft"), ("final-control", "Endkontrolle"), ("handed-over", "übergeben"), ("warranty", "Garantie")),
        WordList.Of<StillNeeded>("stillNeeded",
            ("watch-here", "a watch of theirs is here", "eine Uhr ist noch hier"), ("money-open", "money is owed", "Geld ist offen"),
            ("claim-open", "a claim is open", "eine Reklamation ist offen"), ("dispute", "a dispute is open", "ein Streit ist offen"), ("legal", "a legal hold", "eine rechtliche Sperre")),
        WordList.Of("extractState",
            ("genuine", "echt"), ("altered", "verändert"), ("unknown-key", "nicht von hier"), ("unreadable", "unlesbar")),
    ];
}
