using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.Jobs;

/// <summary>A set of rates in several positions; seconds gained per day of true time, degrees at the set's lift angle.</summary>
/// <param name="MeanPerDaySeconds">Plain average over the positions, to one decimal.</param>
/// <param name="SpreadPerDaySeconds">Highest rate minus lowest, to one decimal.</param>
public sealed record RateSetView(
    EntryRef Event, Instant At, string? Person, string? Bench, WindState? WindState, decimal? HoursSinceFullWind, decimal? LiftAngleDegrees, int? VibrationsPerHour,
    bool? ChronographRunning, bool? Cased, string? Instrument, ImmutableArray<RateReading> Readings, decimal MeanPerDaySeconds, decimal SpreadPerDaySeconds);

/// <summary>Every rate set of a job, oldest first. A measurement is never void; the newest valid one counts.</summary>
public static class ReadRateSets
{
    public static async Task<Results<Paged<RateSetView>, ProblemHttpResult>> Handle(string label, Page page, Caller caller, JobStore store, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, job, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var sets = read.Entries.Where(entry => entry.Counts && entry.Event is RateSetRecorded)
            .Select(entry => (entry.Place, Figures: RateSetFigures.Of(((RateSetRecorded)entry.Event).Readings), Entry: entry))
            .Where(one => one.Figures is not null)
            .ToArray();
        var after = page.After is [var seen] && long.TryParse(seen, NumberStyles.None, CultureInfo.InvariantCulture, out var position)
            ? Array.FindIndex(sets, one => one.Place.Position == position) + 1
            : 0;
        var places = sets.ToDictionary(one => EntryRef.Of(one.Entry.Id), one => one.Place.Position);
        return page.Of(
            [.. sets.Skip(after).Take(page.Limit + 1).Select(one => Shown(one.Entry, one.Figures!, read.Job.Route?.Quartz == true))],
            view => [places[view.Event].ToString(CultureInfo.InvariantCulture)]);
    }

    // Told before somebody found a quartz movement under the dial, figures of a balance were another watch's.
    private static RateSetView Shown(Entry entry, RateSetFigures figures, bool quartz)
    {
        var told = (RateSetRecorded)entry.Event;
        var set = !quartz ? told : told with
        {
            LiftAngleDegrees = null,
            Readings = [.. told.Readings.Select(reading => reading with { AmplitudeDegrees = null, BeatErrorMilliseconds = null })],
        };
        return new RateSetView(
            EntryRef.Of(entry.Id), entry.Effective, entry.Person, entry.Judged.Bench, set.WindState, set.HoursSinceFullWind, set.LiftAngleDegrees, set.VibrationsPerHour,
            set.ChronographRunning, set.Cased, set.Instrument, set.Readings,
            Math.Round(figures.MeanPerDaySeconds, 1, MidpointRounding.AwayFromZero), Math.Round(figures.SpreadPerDaySeconds, 1, MidpointRounding.AwayFromZero));
    }
}
