using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Intake;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Tests;

/// <summary>One function of a watch.</summary>
/// <param name="OneOf">One of these would do; the one that was tried, once it was.</param>
/// <param name="Words">What people call it, in the caller's language.</param>
/// <param name="BackTo">For one that is not right: where it is put right.</param>
/// <param name="FiguresDiffer">What the person says and what the figures say are not the same; the person's word stands.</param>
/// <param name="Rules">What is right, by the rules in force now.</param>
/// <param name="Caution">In the caller's language.</param>
public sealed record FunctionView(
    ImmutableArray<WatchFunction> OneOf, string Words, FunctionState State, Stage? BackTo, bool FiguresDiffer, Instant? At, string? Person, FunctionValue? Value, TriedTimes? Trials, string? Remark,
    EntryRef? Event, ImmutableArray<FunctionRule> Rules, string? Caution);

/// <summary>What a watch has to show, by what is known of its movement, and what it has shown since it was last rebuilt and its hands were last fitted.</summary>
/// <param name="Calendar">Absent where nobody has written it down: the functions of a calendar are then asked of nobody.</param>
/// <param name="CountsSince">Trials before this moment are kept and count no more.</param>
public sealed record FunctionsView(Label Job, CalibreKind Kind, bool? Calendar, Instant? CountsSince, ImmutableArray<FunctionView> Functions);

/// <summary>The functions of a watch: right, not right, still open.</summary>
public static class ReadFunctions
{
    public static async Task<Results<Ok<FunctionsView>, ProblemHttpResult>> Handle(
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

        var movement = read.Known.Movement;
        return TypedResults.Ok(new FunctionsView(
            read.Job.Label, movement.Kind, movement.Calendar, FunctionBook.CountsSince(read.Job.Standings),
            [.. read.Job.Functions.Stand(read.Job.Standings, movement.ToShow(rules.Functions)).Select(one => Shown(one, rules.Functions, language.Best))]));
    }

    private static FunctionView Shown(FunctionStanding one, FunctionRules rules, Language language)
    {
        var told = one.Check?.Told;
        var back = one.State == FunctionState.NotRight ? one.Check?.Terms.BackTo ?? rules.Of(one.OneOf[0])?.BackTo : null;
        return new FunctionView(
            one.OneOf, Phrase.Of("{0}", new Series([.. one.OneOf.Select(function => (object)function)], AnyOne: true)).In(language), one.State, back, one.Check?.FiguresDiffer == true,
            one.Check?.At, one.Check?.Person, told?.Value, told?.Trials, told?.Remark, one.Check is { } check ? EntryRef.Of(check.Id) : null,
            [.. one.OneOf.Select(rules.Of).OfType<FunctionRule>()],
            one.OneOf.Contains(WatchFunction.QuickCorrection) ? FunctionWords.NoQuickCorrection(rules).In(language) : null);
    }
}
