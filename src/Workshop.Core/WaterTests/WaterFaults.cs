using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.WaterTests;

/// <summary>What is wrong in a water test alone.</summary>
internal static class WaterFaults
{
    private const int NameAtMost = 120;

    public static IEnumerable<Fault> Of(WaterTestRecorded told)
    {
        if (told.PressureBar < -1)
        {
            yield return new Fault("/pressureBar", Phrase.Of("A vacuum is 0 to -1 bar: there is no less than nothing."));
        }

        foreach (var (member, minutes) in ((string, decimal?)[])[("watchAtRoomMinutes", told.WatchAtRoomMinutes), ("warmMinutes", told.WarmMinutes), ("dropMinutes", told.DropMinutes), ("ratingBar", told.RatingBar)])
        {
            if (minutes < 0)
            {
                yield return new Fault($"/{member}", Phrase.Of("Less than nothing is not read."));
            }
        }

        if (told.Method != WaterTestMethod.Condensation && (told.WarmCelsius is not null || told.WarmMinutes is not null || told.DropMinutes is not null))
        {
            yield return new Fault("/method", Phrase.Of("Warmth and a drop belong to the test by condensation."));
        }

        foreach (var (member, name) in ((string, string?)[])[("device", told.Device), ("programme", told.Programme)])
        {
            if (name is { Length: 0 or > NameAtMost })
            {
                yield return new Fault($"/{member}", Phrase.Of("A name has 1 to {0} letters.", NameAtMost));
            }
        }
    }
}
