using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>Something that one set of rates cannot tell apart.</summary>
/// <param name="Words">In the caller's language.</param>
public sealed record PatternLimitView(PatternLimit Limit, string Words);

/// <summary>Mean and first harmonic over the vertical positions by least squares, and the flat positions against them; to two decimals.</summary>
/// <param name="VerticalMeanPerDaySeconds">Mean of the fitted rates, seconds gained per day.</param>
/// <param name="HalfSwingPerDaySeconds">Half the difference between the fastest and the slowest direction of the crown, seconds per day.</param>
/// <param name="FastestCrownDegrees">Where the crown points when it is fastest: 0 up, 90 left, 180 down, 270 right; absent where nothing swings.</param>
/// <param name="ResidualPerDaySeconds">(up + down − left − right) / 4, seconds per day: what no first harmonic explains; absent with three vertical positions.</param>
/// <param name="Exact">Three vertical positions, which are always met exactly.</param>
/// <param name="FlatLessVerticalPerDaySeconds">Seconds per day; absent without a flat position.</param>
/// <param name="CannotSeparate">What one set cannot tell apart.</param>
/// <param name="Words">In the caller's language.</param>
public sealed record PatternView(
    decimal VerticalMeanPerDaySeconds, decimal HalfSwingPerDaySeconds, decimal? FastestCrownDegrees, decimal? ResidualPerDaySeconds, bool Exact, decimal? FlatLessVerticalPerDaySeconds,
    ImmutableArray<PatternLimitView> CannotSeparate, ImmutableArray<string> Words);

/// <summary>The rate on a wrist that spends its day as the shop's wear profile says, as it is in force now.</summary>
/// <param name="RatePerDaySeconds">Mean of the rates by the hours of their positions, to two decimals.</param>
/// <param name="HoursCovered">Hours of the profile in positions that were measured.</param>
/// <param name="Missing">Positions of the profile that were not measured; their hours are left out.</param>
/// <param name="Words">In the caller's language.</param>
public sealed record PredictedView(decimal RatePerDaySeconds, decimal HoursCovered, ImmutableArray<Position> Missing, ImmutableArray<string> Words);

/// <summary>A set of rates in several positions; seconds gained per day of true time, degrees at the set's lift angle.</summary>
/// <param name="MeanPerDaySeconds">Plain average over the positions, to one decimal.</param>
/// <param name="SpreadPerDaySeconds">Highest rate minus lowest, to one decimal.</param>
/// <param name="Pattern">Absent with fewer than three vertical positions, and of a quartz watch, which has no balance.</param>
/// <param name="Predicted">Absent where no hour of the shop's wear profile lies in a position that was measured.</param>
public sealed record RateSetView(
    EntryRef Event, Instant At, string? Person, string? Bench, WindState? WindState, decimal? HoursSinceFullWind, decimal? LiftAngleDegrees, int? VibrationsPerHour,
    bool? ChronographRunning, bool? Cased, string? Instrument, ImmutableArray<RateReading> Readings, decimal MeanPerDaySeconds, decimal SpreadPerDaySeconds,
    PatternView? Pattern, PredictedView? Predicted);

/// <summary>Every rate set of a job, oldest first. A measurement is never void; the newest valid one counts.</summary>
public static class ReadRateSets
{
    public static async Task<Results<Paged<RateSetView>, ProblemHttpResult>> Handle(string label, Page page, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource rules, CancellationToken cancel)
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
        var profile = (await rules.Read(caller.Site, cancel)).Timekeeping.WearProfile;
        var places = sets.ToDictionary(one => EntryRef.Of(one.Entry.Id), one => one.Place.Position);
        return page.Of(
            [.. sets.Skip(after).Take(page.Limit + 1).Select(one => Shown(one.Entry, one.Figures!, read.Job.Route?.Quartz == true, profile, language.Best))],
            view => [places[view.Event].ToString(CultureInfo.InvariantCulture)]);
    }

    // Told before somebody found a quartz movement under the dial, figures of a balance were another watch's.
    private static RateSetView Shown(Entry entry, RateSetFigures figures, bool quartz, WearProfile profile, Language language)
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
            Rounded(figures.MeanPerDaySeconds, 1), Rounded(figures.SpreadPerDaySeconds, 1),
            !quartz && PositionPattern.Of(set.Readings) is { } pattern ? Shown(pattern, language) : null,
            PredictedRate.Of(set.Readings, profile) is { } predicted ? Shown(predicted, profile, language) : null);
    }

    private static PatternView Shown(PositionPattern pattern, Language language) => new(
        Rounded(pattern.VerticalMeanPerDaySeconds), Rounded(pattern.HalfSwingPerDaySeconds), Rounded(pattern.FastestCrownDegrees), Rounded(pattern.ResidualPerDaySeconds), pattern.Exact,
        Rounded(pattern.FlatLessVerticalPerDaySeconds), [.. pattern.CannotSeparate().Select(limit => new PatternLimitView(limit, WordLists.Of(limit, language)))],
        [.. PatternWords.Of(pattern).Select(words => words.In(language))]);

    private static PredictedView Shown(PredictedRate predicted, WearProfile profile, Language language) => new(
        Rounded(predicted.RatePerDaySeconds), predicted.HoursCovered, predicted.Missing, [.. PatternWords.Of(predicted, profile).Select(words => words.In(language))]);

    private static decimal? Rounded(decimal? figure) => figure is { } known ? Rounded(known) : null;

    private static decimal Rounded(decimal figure, int decimals = 2) => Math.Round(figure, decimals, MidpointRounding.AwayFromZero);
}
