using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>A verdict that was given after its event had been held.</summary>
/// <param name="Number">1, 2, 3 … for each source, in the order in which they were given.</param>
/// <param name="Result">As it would have been answered at once.</param>
public sealed record LateOutcome(long Number, string Id, long? Sequence, EventResult Result);

/// <summary>What became of events that were answered <c>held</c>.</summary>
public static class ReadOutcomes
{
    /// <param name="id">The device's name: of the source <c>/devices/bench-2/1</c> it is <c>bench-2</c>.</param>
    /// <param name="after">The number of the last verdict seen; 0 for the beginning.</param>
    public static async Task<Results<Paged<LateOutcome>, ProblemHttpResult>> Handle(
        string id, Page page, Caller caller, ReceivedStore store, CancellationToken cancel, long after = 0)
    {
        if (!caller.Source.StartsWith($"/devices/{id}/", StringComparison.Ordinal))
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, $"This key speaks for '{caller.Source}': it has no verdicts of '/devices/{id}'.");
        }

        if (after < 0)
        {
            return Problems.BadParameter("after", "This is no number of a verdict.");
        }

        if (page.After is not [])
        {
            if (page.After is not [var cursor] || !long.TryParse(cursor, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var seen))
            {
                return Problems.BadParameter("cursor", "This is no cursor of this list; take it from the Link of the page before");
            }

            after = Math.Max(after, seen);
        }

        var rows = await store.Outcomes(caller.Site, caller.Source, after, page.Limit + 1, cancel);
        return page.Of<LateOutcome>([.. rows.Select(Shown)], one => [one.Number.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
    }

    private static LateOutcome Shown(StoredReceived row) =>
        new(row.Outcome!.Value, row.Id, row.Sequence, JsonSerializer.Deserialize<EventResult>(row.Answer!, WorkshopJson.Options)!);
}
