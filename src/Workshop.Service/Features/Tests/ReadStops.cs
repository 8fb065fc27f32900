using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Core.Stops;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Tests;

/// <summary>A moment at which the watch may have stopped.</summary>
/// <param name="RanForMinutes">By its own hands, whole minutes.</param>
/// <param name="Day">The watch's own day then: it goes on at its own midnights.</param>
/// <param name="Time">By a dial of 24 hours.</param>
/// <param name="DayDoubtful">By the hands its calendar was changing.</param>
public sealed record StopMomentView(long RanForMinutes, string Words, LocalDate Day, LocalTime Time, bool DayDoubtful);

/// <summary>What a stop makes one suspect.</summary>
/// <param name="Fits">Share of the possible moments at which its conditions hold.</param>
/// <param name="Probability">Of what fits; each found cause counts one and each cause begins at one. To two decimals.</param>
/// <param name="Found">How often it was found behind stops.</param>
/// <param name="OfFound">Of so many causes.</param>
/// <param name="Words">In the caller's language; too few causes are said to be so.</param>
public sealed record SuspicionView(StopCause Cause, string Called, decimal Fits, decimal Probability, int Found, int OfFound, bool TooFew, string Words);

/// <summary>The test that is worth most for its minutes.</summary>
/// <param name="Why">In the caller's language.</param>
/// <param name="Caution">In the caller's language; absent where it hurts nothing.</param>
public sealed record NextTestView(StopTest Test, string Words, StopCause For, int Minutes, int? ElapsedHours, bool OpensTheCase, string Why, string? Caution);

/// <summary>What was found behind a stop.</summary>
public sealed record FoundCauseView(EntryRef Event, StopCause Cause, string Words, string? Remark, Instant At, string? Person);

/// <summary>A watch was found stopped.</summary>
/// <param name="Event">The reading that says so; what <c>stop.explained</c> names.</param>
/// <param name="Moments">Shortest first; empty where nobody read the hands.</param>
/// <param name="DayFitsNone">The day that was read fits none of the moments and was left aside.</param>
/// <param name="Suspicions">Most likely first.</param>
public sealed record StopView(
    EntryRef Event, WearCheckKind Kind, Instant StartedAt, Instant FoundAt, string? ShownTime, int? ShownDay, WearPlace? Place, bool ChronographRunning, ImmutableArray<StopMomentView> Moments, bool DayFitsNone,
    ImmutableArray<SuspicionView> Suspicions, NextTestView? NextTest, FoundCauseView? Found);

/// <summary>Every stop of a watch in its checks after wear, oldest first.</summary>
/// <param name="Calibre">As the shop calls it; absent where it is not written down.</param>
/// <param name="CountedOver">Whose found causes are counted: <c>calibre</c>, or <c>shop</c> where the calibre is not written down.</param>
public sealed record StopsView(Label Job, string? Calibre, string CountedOver, int CausesFound, ImmutableArray<StopView> Stops);

/// <summary>When a watch stopped, what that makes one suspect, what to try next, and what was found.</summary>
public static class ReadStops
{
    public static async Task<Results<Ok<StopsView>, ProblemHttpResult>> Handle(
        string label, Caller caller, LanguageAsked language, JobStore store, Reader reader, ShopRulesSource source, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        var rules = await source.Read(caller.Site, cancel);
        return await TestsReading.Read(store, reader, caller.Site, name, rules, cancel) is { } read
            ? TypedResults.Ok(new StopsView(
                read.Job.Label, read.Known.Calibre, read.Counts.OfCalibre ? "calibre" : "shop", read.Counts.All, [.. read.Job.Stops.Stops.Select(stop => Shown(stop, read, rules, language.Best))]))
            : PathLabel.NoJob();
    }

    private static StopView Shown(Stop stop, TestsReading read, ShopRules rules, Language language)
    {
        var ran = stop.Ran(rules.Calendar.Zone);
        var suspicions = Suspicions.Of(stop, read.Job.Stops.Stops, read.Known.ReserveHours, read.Counts, rules.Stops, rules.Calendar.Zone);
        return new StopView(
            EntryRef.Of(stop.Id), stop.Start.Kind, stop.Start.Set.At, stop.FoundAt, stop.Hands is { } hands ? StopWords.Time(hands) : null, stop.ShownDay, stop.Start.Place, stop.Start.ChronographRunning,
            [.. ran.Candidates.Select(one => new StopMomentView((long)one.RanFor.TotalMinutes, StopWords.For(one.RanFor).In(language), one.Shows.Date, one.Shows.TimeOfDay, one.DayDoubtful))],
            ran.DayFitsNone,
            [.. suspicions.Select(one => Shown(one, language))],
            stop.Found is null && Suspicions.Cheapest(suspicions, rules.Stops) is { } next ? Shown(next, language) : null,
            stop.Found is { } found ? new FoundCauseView(EntryRef.Of(found.Entry), found.Cause, WordLists.Of(found.Cause, language), found.Remark, found.At, found.Person) : null);
    }

    private static SuspicionView Shown(Suspicion one, Language language) => new(
        one.Cause, WordLists.Of(one.Cause, language), Rounded(one.Fits), Rounded(one.Probability), one.Found, one.OfFound, one.TooFew, StopWords.Of(one).In(language));

    private static NextTestView Shown(NextTest next, Language language) => new(
        next.Test.Test, WordLists.Of(next.Test.Test, language), next.Suspicion.Cause, next.Test.Minutes, next.Test.ElapsedHours == 0 ? null : next.Test.ElapsedHours, next.Test.OpensTheCase,
        StopWords.Why(next).In(language), StopWords.Caution(next.Test)?.In(language));

    private static decimal Rounded(decimal share) => Math.Round(share, 2, MidpointRounding.AwayFromZero);
}
