using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>A position in two sets; seconds gained per day, to one decimal.</summary>
public sealed record PositionChangeView(Position Position, decimal BeforePerDaySeconds, decimal AfterPerDaySeconds, decimal ChangePerDaySeconds);

/// <summary>One set against another over the positions that both have; seconds gained per day, to one decimal.</summary>
/// <param name="ChangePerDaySeconds">Mean after less mean before.</param>
public sealed record RateChangeView(
    EntryRef Before, Instant BeforeAt, EntryRef After, Instant AfterAt, ImmutableArray<PositionChangeView> Positions, decimal MeanBeforePerDaySeconds, decimal MeanAfterPerDaySeconds,
    decimal ChangePerDaySeconds, decimal SpreadBeforePerDaySeconds, decimal SpreadAfterPerDaySeconds, ImmutableArray<string> Words);

/// <summary>How the rate goes with the amplitude within each position: least squares, one slope for all of them.</summary>
/// <param name="PerDaySecondsPerTenDegrees">Seconds a day for each ten degrees more, to two decimals.</param>
/// <param name="Readings">Readings it rests on: of positions that were read at least twice since the last touch and rebuild.</param>
public sealed record AmplitudeDependenceView(decimal PerDaySecondsPerTenDegrees, int Readings, int Positions, decimal LeastDegrees, decimal MostDegrees, ImmutableArray<string> Words);

/// <summary>Flat less upright in one set; seconds gained per day and degrees, to one decimal.</summary>
public sealed record FlatToVerticalView(EntryRef Event, Instant At, decimal FlatMeanPerDaySeconds, decimal VerticalMeanPerDaySeconds, decimal FlatLessVerticalPerDaySeconds, decimal? MeanAmplitudeDegrees);

/// <summary>Something that the sets together cannot tell apart.</summary>
public sealed record ComparisonLimitView(ComparisonLimit Limit, string Words);

/// <summary>By how much to move the rate so that the watch keeps its aim on a wrist, by the newest full set and the shop's wear profile; to one decimal.</summary>
/// <param name="AimPerDaySeconds">What the tolerance aims at, else the middle of its mean rate.</param>
/// <param name="MoveByPerDaySeconds">Positive: faster.</param>
/// <param name="Positions">The rates after that. Regulation moves every position alike, so that the spread stays.</param>
/// <param name="SpreadTooWide">The spread is wider than the tolerance allows, and regulation does not change it.</param>
public sealed record RegulationTargetView(
    EntryRef Event, string Tolerance, decimal AimPerDaySeconds, PredictedView Predicted, decimal MoveByPerDaySeconds, ImmutableArray<PositionChangeView> Positions, decimal SpreadPerDaySeconds,
    bool SpreadTooWide, ImmutableArray<string> Words);

/// <summary>What the rate sets of a job say together, with the chronograph stopped.</summary>
/// <param name="Sets">How many there are.</param>
/// <param name="Isochronism">From full wind to a day later without a touch between; absent where two such sets of the same positions are missing.</param>
/// <param name="BeforeAndAfter">As the watch was received against the newest set since the last touch and rebuild, at the same wind.</param>
/// <param name="Amplitude">Absent with too few amplitudes, or too close together.</param>
/// <param name="FlatToVertical">Of every set that has both, oldest first.</param>
public sealed record ComparedRateSets(
    Label Job, int Sets, RateChangeView? Isochronism, RateChangeView? BeforeAndAfter, AmplitudeDependenceView? Amplitude, ImmutableArray<FlatToVerticalView> FlatToVertical,
    ImmutableArray<ComparisonLimitView> CannotSeparate, RegulationTargetView? Target);

/// <summary>Several sets of a job against each other: what one alone does not show.</summary>
public static class CompareRateSets
{
    public static async Task<Results<Seen<ComparedRateSets>, ProblemHttpResult>> Handle(
        string label, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource rules, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, name, cancel) is not { Job: var job })
        {
            return PathLabel.NoJob();
        }

        return Answer.Seen(job.Version, Shown(job, await rules.Read(caller.Site, cancel), language.Best));
    }

    private static ComparedRateSets Shown(Job job, ShopRules rules, Language language)
    {
        var record = job.Timekeeping with { RateSets = [.. job.Timekeeping.RateSets.Select(set => ReadRateSets.AsOfThis(set, job, rules))] };
        var compared = RateComparison.Of(record, rules.Timekeeping);
        return new ComparedRateSets(
            job.Label, record.RateSets.Count(set => !set.ChronographRunning),
            compared.Isochronism is { } day ? Shown(day, ComparisonWords.Isochronism(day), language) : null,
            compared.BeforeAndAfter is { } change ? Shown(change, ComparisonWords.BeforeAndAfter(change), language) : null,
            compared.Amplitude is { } slope
                ? new AmplitudeDependenceView(
                    Rounded(slope.PerDaySecondsPerTenDegrees, 2), slope.Readings, slope.Positions, Rounded(slope.LeastDegrees), Rounded(slope.MostDegrees), [ComparisonWords.Of(slope).In(language)])
                : null,
            [.. compared.FlatToVertical.Select(one => new FlatToVerticalView(
                EntryRef.Of(one.Set.Id), one.Set.At, Rounded(one.FlatMeanPerDaySeconds), Rounded(one.VerticalMeanPerDaySeconds), Rounded(one.FlatLessVerticalPerDaySeconds),
                one.AmplitudeDegrees is { } amplitude ? Rounded(amplitude) : null))],
            [.. compared.CannotSeparate.Select(limit => new ComparisonLimitView(limit, WordLists.Of(limit, language)))],
            TargetOf(job, record, rules, language));
    }

    private static RegulationTargetView? TargetOf(Job job, TimekeepingRecord record, ShopRules rules, Language language)
    {
        var profile = rules.Timekeeping.WearProfile;
        var set = record.RateSets.LastOrDefault(one =>
            one.Adjustment == record.Adjustment && !one.ChronographRunning && (job.Route?.Quartz == true || RateVerdict.WindOf(one, rules.Timekeeping.Plausibility) == WindState.Full));
        if (set is null || (set.Terms?.Tolerance ?? rules.ToleranceOf(job.Route)) is not { } tolerance || RegulationTarget.Of(set, profile, tolerance) is not { } target)
        {
            return null;
        }

        return new RegulationTargetView(
            EntryRef.Of(set.Id), tolerance.Kind, Rounded(target.AimPerDaySeconds), ReadRateSets.Shown(target.Predicted, profile, language), Rounded(target.MoveByPerDaySeconds),
            [.. target.Positions.Select(Shown)], Rounded(target.SpreadPerDaySeconds), target.SpreadTooWide, [.. ComparisonWords.Of(target).Select(words => words.In(language))]);
    }

    private static RateChangeView Shown(RateChange change, Phrase words, Language language) => new(
        EntryRef.Of(change.Before.Id), change.Before.At, EntryRef.Of(change.After.Id), change.After.At, [.. change.Positions.Select(Shown)], Rounded(change.MeanBeforePerDaySeconds),
        Rounded(change.MeanAfterPerDaySeconds), Rounded(change.ChangePerDaySeconds), Rounded(change.SpreadBeforePerDaySeconds), Rounded(change.SpreadAfterPerDaySeconds), [words.In(language)]);

    private static PositionChangeView Shown(PositionChange one) => new(one.Position, Rounded(one.BeforePerDaySeconds), Rounded(one.AfterPerDaySeconds), Rounded(one.ChangePerDaySeconds));

    private static decimal Rounded(decimal figure, int decimals = 1) => Math.Round(figure, decimals, MidpointRounding.AwayFromZero);
}
