using Workshop.Core.Labels;
using Workshop.Core.Scans;
using Workshop.Core.Words;

namespace Workshop.Service.Demo;

/// <summary>Labels of the demo's benches, winder places and word cards: the same in every demo, so that a page can show them.</summary>
internal static class DemoLabels
{
    private const int WinderPlaces = 4;

    public static IEnumerable<(Label Label, string Names)> OfPlacesAndWords =>
    [
        .. Enumerable.Range(1, WinderPlaces).Select(place => (Of(LabelKind.WinderPlace, place), $"winder-places/w-{place}")),
        .. Enum.GetValues<WordCard>().Select(word => (OfWord(word), $"words/{Word.Of(word)}")),
    ];

    public static Label OfBench(DemoBench bench) => Of(LabelKind.Bench, DemoTown.Benches.IndexOf(bench) + 1);

    public static Label OfWord(WordCard word) => Of(LabelKind.WordCard, (int)word + 1);

    // Different in several places, so that one is not mistaken for the next across the room.
    private static Label Of(LabelKind kind, int number) => Label.Complete(kind, [number, 7, number + 3, 11, 2 * number, 5]);
}
