using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.ReserveTests;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Tests;

/// <summary>What would settle a test that says nothing.</summary>
/// <param name="Words">In the caller's language.</param>
public sealed record ReserveSettlingView(ReserveSettling Settling, string Words);

/// <summary>A look at the watch.</summary>
public sealed record ReserveLookView(EntryRef Event, Instant At, bool Running, LocalTime? ShownTime, int? ShownDay);

/// <summary>One test of the reserve, from full wind on.</summary>
/// <param name="StatedHours">What it was to run, frozen at the start.</param>
/// <param name="Basis">From where that comes.</param>
/// <param name="RanLeastHours">It ran for so long at least; to two decimals, judged unrounded.</param>
/// <param name="RanMostHours">And for so long at most; absent while it runs.</param>
/// <param name="Exact">Least and most are the same: the hands, or somebody who saw it, tell it.</param>
/// <param name="ByException">Short, by no more than is let pass by exception.</param>
/// <param name="LookAt">When to look next.</param>
/// <param name="LookWhenOpen">When somebody is there to look.</param>
public sealed record ReserveTestView(
    EntryRef Event, Instant StartedAt, decimal StatedHours, ReserveBasis Basis, string BasisWords, bool ChronographRunning, bool Running, ReserveVerdict Verdict, string VerdictWords,
    decimal RanLeastHours, decimal? RanMostHours, bool Exact, bool ByException, ReserveSettlingView? Settling, Instant? LookAt, Instant? LookWhenOpen, ImmutableArray<ReserveLookView> Looks);

/// <summary>Every test of the reserve of a job, oldest first.</summary>
/// <param name="StatedHours">What a test that is started now would be judged by.</param>
public sealed record ReserveTestsView(Label Job, decimal StatedHours, ReserveBasis Basis, ImmutableArray<ReserveTestView> Tests);

/// <summary>How long a watch runs from full wind.</summary>
public static class ReadReserveTests
{
    public static async Task<Results<Ok<ReserveTestsView>, ProblemHttpResult>> Handle(
        string label, Caller caller, LanguageAsked language, JobStore store, Reader reader, ShopRulesSource source, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        var rules = await source.Read(caller.Site, cancel);
        if (await TestsReading.Read(store, reader, caller.Site, name, rules, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var now = read.Known.ReserveBy(null, rules.Reserve);
        return TypedResults.Ok(new ReserveTestsView(read.Job.Label, now.Hours, now.Basis, [.. read.Job.Reserve.Tests.Select(test => Shown(test))]));

        ReserveTestView Shown(ReserveTest test)
        {
            var judged = ReserveJudgement.Of(test, rules.Calendar.Zone);
            return new ReserveTestView(
                EntryRef.Of(test.Start), test.Set.At, test.Terms.Hours, test.Terms.Basis, WordLists.Of(test.Terms.Basis, language.Best), test.ChronographRunning, test.Runs,
                judged.Verdict, WordLists.Of(judged.Verdict, language.Best), Hours(judged.Least), judged.Most is { } most ? Hours(most) : null, judged.Exact, judged.ByException,
                judged.Settling is { } settling ? new ReserveSettlingView(settling, WordLists.Of(settling, language.Best)) : null,
                test.LookAt, test.LookAt is { } at ? rules.Calendar.NextOpening(at) : null,
                [.. test.Looks.Select(look => new ReserveLookView(EntryRef.Of(look.Id), look.At, look.Told.Running == true, look.Told.ShownTime, look.Told.ShownDay))]);
        }
    }

    private static decimal Hours(Duration ran) => Math.Round((decimal)ran.TotalHours, 2, MidpointRounding.AwayFromZero);
}
