using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Labels;
using Workshop.Core.Timekeeping;
using Workshop.Core.Trials;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Jobs;

/// <summary>One day of a trial.</summary>
/// <param name="Symbol">The position by ISO 3158, of a watch with its crown at three.</param>
/// <param name="RatePerDaySeconds">Seconds gained over the day of true time, as told.</param>
/// <param name="LikeSequence">False: position or temperature were not the sequence's, and the day counts for nothing.</param>
/// <param name="Asked">What the sequence asks for on that day; where the day is unlike it.</param>
public sealed record TrialDayView(int Day, EntryRef Event, Position Position, string Symbol, decimal TemperatureCelsius, decimal RatePerDaySeconds, bool LikeSequence, TrialStepView? Asked);

/// <summary>What the sequence asks for.</summary>
public sealed record TrialStepView(Position Position, int TemperatureCelsius);

/// <summary>One of the seven criteria.</summary>
/// <param name="Figure">Seconds a day; for the variation with temperature, seconds a day for each degree Celsius. To four decimals; judged unrounded.</param>
/// <param name="Least">The lower limit, which still passes; absent where the figure is never negative.</param>
/// <param name="Most">The upper limit, which still passes.</param>
/// <param name="Margin">How far the figure lies within the nearer limit; negative by what it lies beyond it. To four decimals.</param>
public sealed record TrialCriterionView(TrialCriterion Criterion, decimal Figure, decimal? Least, decimal? Most, decimal Margin, bool Met);

/// <summary>The criteria with the limits of one size of movement.</summary>
/// <param name="Met">Every criterion is met.</param>
public sealed record TrialCategoryView(TrialCategory Category, bool Met, ImmutableArray<TrialCriterionView> Criteria);

/// <summary>A 15-day trial. It has criteria once every day was told as the sequence asks, and else says what is missing.</summary>
/// <param name="Computed">By what the figures are computed, in the caller's language. It is arithmetic over what was told, and no testing body's word.</param>
/// <param name="MissingDays">Days nobody has told of; empty once all are there.</param>
/// <param name="UnlikeSequence">Days told under another position or temperature than the sequence asks for.</param>
/// <param name="Categories">One for each size; empty while a day is missing or unlike the sequence.</param>
public sealed record ChronometerTrialView(
    Label Job, string Trial, string Computed, ImmutableArray<int> MissingDays, ImmutableArray<int> UnlikeSequence, ImmutableArray<TrialCategoryView> Categories, ImmutableArray<TrialDayView> Days);

/// <summary>A trial of a job by the definitions of ISO 3159.</summary>
public static class ReadChronometerTrial
{
    private const int Decimals = 4;

    public static async Task<Results<Seen<ChronometerTrialView>, ProblemHttpResult>> Handle(
        string label, string trial, Caller caller, LanguageAsked language, JobStore store, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, name, cancel) is not { Job: var job })
        {
            return PathLabel.NoJob();
        }

        // Days told before somebody found a quartz movement under the dial were another watch's.
        var days = job.Route?.Quartz == true ? [] : job.Trials.Of(trial);
        return days.IsEmpty
            ? Problems.Of(ProblemCatalogue.NoSuchThing, "This job has no trial of this name.")
            : Answer.Seen(job.Version, Shown(job.Label, trial, days, language.Best));
    }

    private static ChronometerTrialView Shown(Label job, string trial, ImmutableArray<TrialDay> days, Language language)
    {
        var result = TrialResult.Of(days);
        return new ChronometerTrialView(
            job, trial, Phrase.Of("computed by the definitions of ISO 3159").In(language), result.MissingDays, result.UnlikeSequence,
            result.Complete ? [.. Enum.GetValues<TrialCategory>().Select(category => Shown(category, result.Figures(category)!.Value))] : [],
            [.. days.Select(Shown)]);
    }

    private static TrialCategoryView Shown(TrialCategory category, ImmutableArray<TrialFigure> figures) => new(
        category, figures.All(one => one.Met),
        [.. figures.Select(one => new TrialCriterionView(one.Criterion, Rounded(one.Figure), one.Limits.Least, one.Limits.Most, Rounded(one.Margin), one.Met))]);

    private static TrialDayView Shown(TrialDay told)
    {
        var step = TrialSequence.Steps[told.Day - 1];
        return new TrialDayView(
            told.Day, EntryRef.Of(told.Id), told.Position, ControlPosition.SymbolOf(told.Position), told.TemperatureCelsius, told.RatePerDaySeconds, told.LikeSequence,
            told.LikeSequence ? null : new TrialStepView(step.Position, step.TemperatureCelsius));
    }

    private static decimal Rounded(decimal figure) => Math.Round(figure, Decimals, MidpointRounding.AwayFromZero);
}
