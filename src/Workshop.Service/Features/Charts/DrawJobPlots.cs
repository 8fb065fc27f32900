using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Charts;

/// <summary>Plots of one job, as SVG or PNG: its rate sets as a ladder, its amplitudes, and the readings of a worn check.</summary>
public static class DrawJobPlots
{
    private const int AtMost = 10_000;

    /// <param name="form"><c>svg</c> or <c>png</c>.</param>
    /// <param name="set">The set that is drawn as it is now: its number, the oldest is 1; the newest where left out.</param>
    /// <param name="before">The set it is held against; the first of the job where left out.</param>
    /// <param name="width">Dots of a screen.</param>
    /// <param name="scale">Dots of a PNG for each of them; 3.125 makes 300 an inch.</param>
    public static async Task<Results<Printed, ProblemHttpResult>> Ladder(
        string label, string form, string? set, string? before, string? width, string? scale,
        Caller caller, LanguageAsked language, JobStore store, ShopRulesSource source, CancellationToken cancel)
    {
        if (PlotAsked.Read(form, width, scale, out var refusal) is not { } asked
            || !PlotAsked.TryCount("set", set, AtMost, out var setNumber, out refusal) || !PlotAsked.TryCount("before", before, AtMost, out var beforeNumber, out refusal)
            || !PathLabel.TryReadJob(label, out var name, out refusal))
        {
            return refusal!;
        }

        if (await store.Find(caller.Site, name, cancel) is not { Job: var job })
        {
            return PathLabel.NoJob();
        }

        var sets = job.Timekeeping.RateSets;
        var (now, then) = (setNumber ?? sets.Length, beforeNumber ?? 1);
        if (sets.IsEmpty || now > sets.Length || beforeNumber > sets.Length)
        {
            return Nothing($"The job has {sets.Length} rate sets: there is nothing to draw.");
        }

        var rules = await source.Read(caller.Site, cancel);
        var (after, first) = (sets[now - 1], then == now ? null : sets[then - 1]);
        var kind = after.Terms?.Tolerance ?? KindOf(job, rules);
        return asked.Draw(
            new LadderPlot($"{name}", first, after, first is null ? null : Words(first, rules, language.Best), Words(after, rules, language.Best), kind?.Worn(), kind?.Kind, language.Best).Sheet(),
            $"{name}-rates");
    }

    public static async Task<Results<Printed, ProblemHttpResult>> Amplitude(
        string label, string form, string? width, string? scale, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource source, CancellationToken cancel)
    {
        if (PlotAsked.Read(form, width, scale, out var refusal) is not { } asked || !PathLabel.TryReadJob(label, out var name, out refusal))
        {
            return refusal!;
        }

        if (await store.Find(caller.Site, name, cancel) is not { Job: var job })
        {
            return PathLabel.NoJob();
        }

        // A quartz watch has no balance: figures of one were another watch's.
        var rebuilt = job.Standings.Of(Stage.Rebuild) is { State: StageState.Done, Since: { } since } ? since : (Instant?)null;
        var sets = job.Route?.Quartz == true ? [] : job.Timekeeping.RateSets;
        ImmutableArray<WoundSet> wound = [.. sets.Select(WoundSet.Of).OfType<WoundSet>()];
        var measuredSince = wound.Any(one => one.Set.At >= rebuilt);
        if (measuredSince)
        {
            (sets, wound) = ([.. sets.Where(set => set.At >= rebuilt)], [.. wound.Where(one => one.Set.At >= rebuilt)]);
        }

        if (wound.IsEmpty)
        {
            return Nothing("No rate set of this job has an amplitude and says how far the mainspring was wound: there is nothing to draw.");
        }

        var kind = wound[^1].Set.Terms?.Tolerance ?? KindOf(job, await source.Read(caller.Site, cancel));
        return asked.Draw(new AmplitudePlot($"{name}", wound, sets.Length - wound.Length, measuredSince, kind, language.Best).Sheet(), $"{name}-amplitude");
    }

    /// <param name="check">Its number, the oldest is 1; the newest where left out.</param>
    public static async Task<Results<Printed, ProblemHttpResult>> Readings(
        string label, string form, string? check, string? width, string? scale, Caller caller, LanguageAsked language, JobStore store, CancellationToken cancel)
    {
        if (PlotAsked.Read(form, width, scale, out var refusal) is not { } asked || !PlotAsked.TryCount("check", check, AtMost, out var number, out refusal)
            || !PathLabel.TryReadJob(label, out var name, out refusal))
        {
            return refusal!;
        }

        if (await store.Find(caller.Site, name, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var checks = read.Job.WearChecks.Checks;
        if (checks.IsEmpty || number > checks.Length)
        {
            return Nothing($"The job has {checks.Length} checks after wear: there is nothing to draw.");
        }

        var which = number ?? checks.Length;
        return asked.Draw(ReadingsOf(read, checks[which - 1], which, language.Best).Sheet(), $"{name}-check-{which}");
    }

    private static WearReadingsPlot ReadingsOf(JobReading read, WearCheck check, int number, Language language)
    {
        ImmutableArray<OffsetPoint> points = [.. check.Points().Select(point => new OffsetPoint((decimal)point.Since.TotalHours, point.OffsetSeconds, point.UncertaintySeconds))];
        var last = check.Readings.LastOrDefault(reading => reading.RatePerDaySeconds is not null);
        return new WearReadingsPlot(
            $"{read.Job.Label}", number, WearCheckKind.Worn, points,
            last is { RatePerDaySeconds: { } rate } ? new OffsetLine(last.Fit?.InterceptSeconds ?? check.OffsetSeconds, rate, last.PlusMinusSeconds ?? 0) : null,
            check.Terms.Window, check.Verdict, null, language);
    }

    private static ToleranceKind? KindOf(Job job, ShopRules rules) => job.Route?.ToleranceKind is { } named ? rules.Tolerances.GetValueOrDefault(named) : null;

    private static string Words(RateSet set, ShopRules rules, Language language)
    {
        var moment = Dates.Moment(set.At.InZone(rules.Calendar.Zone), language);
        return set.Told.Instrument is { } instrument ? $"{moment} ({instrument})" : moment;
    }

    private static ProblemHttpResult Nothing(string why) => Problems.Of(ProblemCatalogue.NoSuchThing, why);
}
