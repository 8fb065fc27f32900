using System.Collections.Immutable;
using Workshop.Core.Charts;

namespace Workshop.Core.Words;

/// <summary>Words of control charts and plots.</summary>
internal static class ChartWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<SignalKind>("chartSignal",
            ("above", "above the upper limit", "über der oberen Grenze"), ("below", "below the lower limit", "unter der unteren Grenze"), ("step", "too large a step", "zu großer Sprung")),
    ];
}
