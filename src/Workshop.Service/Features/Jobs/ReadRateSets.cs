using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Shop;
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

/// <summary>Every rate set of a job, oldest first. A measurement is never void; the newest valid one counts.</summary>
public static class ReadRateSets
{
    public static async Task<Results<Paged<RateSetView>, ProblemHttpResult>> Handle(string label, Page page, Caller caller, LanguageAsked language, JobStore store, Reader reader, ShopRulesSource rules, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, job, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var places = read.Entries.Where(entry => entry.Event is RateSetRecorded).ToDictionary(entry => entry.Id, entry => entry.Place.Position);
        var sets = read.Job.Timekeeping.RateSets;
        var after = page.After is [var seen] && long.TryParse(seen, NumberStyles.None, CultureInfo.InvariantCulture, out var position)
            ? Array.FindIndex([.. sets], one => places[one.Id] == position) + 1
            : 0;
        var inForce = await rules.Read(caller.Site, cancel);
        var come = await reader.Read(connection => RecordingNames.OfJob(connection, caller.Site, job), cancel);
        var shown = sets.Skip(after).Take(page.Limit + 1).Select(one => (one.Id, View: Shown(one, read.Job, inForce, come, language.Best))).ToArray();
        var ids = shown.ToDictionary(one => one.View.Event, one => one.Id);
        return page.Of([.. shown.Select(one => one.View)], view => [places[ids[view.Event]].ToString(CultureInfo.InvariantCulture)]);
    }

    /// <summary>A set as it counts for a quartz watch: told before somebody found the movement under the dial, figures of a balance were another watch's.</summary>
    internal static RateSet AsOfThis(RateSet set, Job job, ShopRules rules) => job.Route?.Quartz != true ? set : set with
    {
        Terms = new RateTerms { Kind = CalibreKind.Quartz, CrownHour = set.Terms?.CrownHour, Tolerance = rules.ToleranceOf(job.Route) },
        RightLiftAngleDegrees = null,
        Told = set.Told with
        {
            LiftAngleDegrees = null,
            Readings = [.. set.Told.Readings.Select(reading => reading with { AmplitudeDegrees = null, BeatErrorMilliseconds = null })],
        },
    };

    private static RateSetView Shown(RateSet kept, Job job, ShopRules rules, ImmutableHashSet<string> come, Language language)
    {
        var set = AsOfThis(kept, job, rules);
        var tolerance = set.Terms?.Tolerance ?? rules.ToleranceOf(job.Route);
        var missing = RateVerdict.MissingOf(set, tolerance);
        var means = SetMeans.Of(set);
        var told = set.Told;
        return new RateSetView(
            EntryRef.Of(set.Id), set.At, set.Person, set.Bench, told.WindState, told.HoursSinceFullWind, set.LiftAngleDegrees, set.RightLiftAngleDegrees is null ? null : told.LiftAngleDegrees,
            told.VibrationsPerHour, told.ChronographRunning, told.Cased, told.Instrument, told.SettleSeconds, told.SampleSeconds, RateReadingView.Of(set),
            Rounded(set.Figures.MeanPerDaySeconds, 1), Rounded(set.Figures.SpreadPerDaySeconds, 1), Rounded(means.FlatPerDaySeconds, 1), Rounded(means.VerticalPerDaySeconds, 1), Rounded(means.AmplitudeDegrees, 1),
            missing.IsEmpty, missing, set.Terms?.CrownHourTaken() ?? ControlPosition.UsualCrownHour, set.Terms?.CrownHour is null,
            [.. RateDoubts.Of(set, rules.Timekeeping).Select(doubt => RateDoubtView.Of(doubt, language))],
            RateVerdict.Of(set, job.Timekeeping, tolerance, rules.Timekeeping.Plausibility) is { } verdict ? RateVerdictView.Of(verdict, language) : null,
            job.Route?.Quartz != true && PositionPattern.Of(set.Readings) is { } pattern ? Shown(pattern, language) : null,
            PredictedRate.Of(set.Readings, rules.Timekeeping.WearProfile) is { } predicted ? Shown(predicted, rules.Timekeeping.WearProfile, language) : null,
            told.Recordings is { IsDefaultOrEmpty: false } named ? [.. named.Select(one => new RecordingRef(one, !come.Contains(one), $"/v1/jobs/{job.Label}/recordings/{one}"))] : null);
    }

    private static PatternView Shown(PositionPattern pattern, Language language) => new(
        Rounded(pattern.VerticalMeanPerDaySeconds), Rounded(pattern.HalfSwingPerDaySeconds), Rounded(pattern.FastestCrownDegrees), Rounded(pattern.ResidualPerDaySeconds), pattern.Exact,
        Rounded(pattern.FlatLessVerticalPerDaySeconds), [.. pattern.CannotSeparate().Select(limit => new PatternLimitView(limit, WordLists.Of(limit, language)))],
        [.. PatternWords.Of(pattern).Select(words => words.In(language))]);

    internal static PredictedView Shown(PredictedRate predicted, WearProfile profile, Language language) => new(
        Rounded(predicted.RatePerDaySeconds), predicted.HoursCovered, predicted.Missing, [.. PatternWords.Of(predicted, profile).Select(words => words.In(language))]);

    private static decimal? Rounded(decimal? figure, int decimals = 2) => figure is { } known ? Rounded(known, decimals) : null;

    private static decimal Rounded(decimal figure, int decimals = 2) => Math.Round(figure, decimals, MidpointRounding.AwayFromZero);
}
