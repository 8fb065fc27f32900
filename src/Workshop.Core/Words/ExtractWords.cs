using System.Collections.Immutable;
using Workshop.Core.Extracts;

namespace Workshop.Core.Words;

/// <summary>Words of sealed extracts, of calendar feeds and of what is kept of people.</summary>
internal static class ExtractWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<ExtractKind>("extractLine",
            ("taken-in", "angenommen"), ("work-done", "Arbeit"), ("part-fitted", "Teil ersetzt"), ("measured", "gemessen"), ("worn-check", "Trageprobe"),
            ("water-tested", "auf Dichtheit geprüft"), ("final-control", "Endkontrolle"), ("handed-over", "übergeben"), ("warranty", "Garantie")),
        WordList.Of("sealState",
            ("genuine", "echt"), ("altered", "verändert"), ("unknown-key", "nicht von hier"), ("unreadable", "unlesbar")),
    ];
}
