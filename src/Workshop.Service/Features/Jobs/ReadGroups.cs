using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Groups;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.Jobs;

/// <summary>A step: when, by whom, at which bench, and the entry that says so.</summary>
public sealed record StepView(Instant At, string? By, string? Bench, EntryRef Event)
{
    internal static StepView? Of(GroupStep? step) => step is null ? null : new StepView(step.At, step.By, step.Bench, EntryRef.Of(step.Entry));
}

/// <summary>A count. With <c>cage</c>: what went into that cage or came out of it.</summary>
public sealed record CountView(CountPoint At, int Count, string? Cage, StepView Step);

/// <summary>A count that is not what it should be.</summary>
/// <param name="Loss">Fewer than expected.</param>
/// <param name="Seen">The count before, with whoever had them last.</param>
public sealed record DifferenceView(CountPoint At, int Expected, int Counted, bool Loss, StepView Step, CountView? Seen);

/// <summary>The group, or some of it, in a cage for a run.</summary>
/// <param name="Over">Opened again or ended otherwise since.</param>
public sealed record LoadView(string Cage, string Run, WashState State, int? Count, int? CountOut, string? Machine, string? Programme, StepView? In, StepView? Out, bool Over);

/// <summary>One group of parts.</summary>
public sealed record GroupView
{
    public required string Group { get; init; }

    public required string Called { get; init; }

    public required GroupState State { get; init; }

    /// <summary>How it stands, in the language asked for.</summary>
    public required string Words { get; init; }

    public string? Reason { get; init; }

    /// <summary>The step that brought the present state.</summary>
    public StepView? Since { get; init; }

    public StepView? Declared { get; init; }

    public ImmutableArray<string> Members { get; init; } = [];

    public ImmutableArray<string> Flags { get; init; } = [];

    public bool NeverWashed { get; init; }

    /// <summary>True: it must never be washed, and was.</summary>
    public bool WashedAgainstTheRule { get; init; }

    /// <summary>Parts that should be there: declared, minus replaced, plus fitted; absent where nobody counted.</summary>
    public int? Owed { get; init; }

    public ImmutableArray<string> PartsOut { get; init; } = [];

    public ImmutableArray<string> PartsFitted { get; init; } = [];

    public ImmutableArray<CountView> Counts { get; init; } = [];

    public ImmutableArray<DifferenceView> Differences { get; init; } = [];

    public ImmutableArray<LoadView> Loads { get; init; } = [];

    public StepView? Inspected { get; init; }

    public StepView? LastSeen { get; init; }
}

/// <summary>The ledger of a job's groups of parts.</summary>
/// <param name="Open">Groups in none of the four ends.</param>
/// <param name="Undeclared">Groups of the kind of work that are neither declared nor struck out; empty before the takedown.</param>
/// <param name="Words">The ledger in one sentence.</param>
public sealed record GroupsView(Label Job, ImmutableArray<GroupView> Groups, ImmutableArray<string> Open, ImmutableArray<string> Undeclared, string Words);

/// <summary>What came apart, what became of each group in cleaning, and every count of it.</summary>
public static class ReadGroups
{
    public static async Task<Results<Seen<GroupsView>, ProblemHttpResult>> Handle(string label, Caller caller, LanguageAsked language, JobStore store, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        return await store.Find(caller.Site, name, cancel) is { Job: var job } ? Answer.Seen(job.Version, Shown(job.Label, job.Groups, language.Best)) : PathLabel.NoJob();
    }

    internal static GroupsView Shown(Label job, GroupLedger ledger, Language language)
    {
        ImmutableArray<string> open = [.. ledger.Open.Select(group => group.Id)];
        return new GroupsView(job, [.. ledger.Groups.Select(group => Shown(group, language))], open, [.. ledger.Undeclared.Select(one => one.Group)], Words(ledger, open).In(language));
    }

    private static Phrase Words(GroupLedger ledger, ImmutableArray<string> open) =>
        ledger.Groups.IsEmpty ? Phrase.Of("No groups of parts were declared")
        : open.IsEmpty ? Phrase.Of("{0} groups, all of them ended", ledger.Groups.Length)
        : Phrase.Of("{0} groups; open: {1}", ledger.Groups.Length, new Series([.. open.Select(group => (object)new Term("group", group))]));

    private static GroupView Shown(PartsGroup group, Language language) => new()
    {
        Group = group.Id,
        Called = WordLists.Of("group", group.Id, language),
        State = group.State,
        Words = WordLists.Of(group.State, language),
        Reason = group.Reason,
        Since = StepView.Of(group.Since),
        Declared = StepView.Of(group.Declared),
        Members = group.Members,
        Flags = group.Flags,
        NeverWashed = group.NeverWashed,
        WashedAgainstTheRule = group.WashedAgainstTheRule,
        Owed = group.Owed,
        PartsOut = group.PartsOut,
        PartsFitted = group.PartsFitted,
        Counts = [.. group.Counts.Select(Shown)],
        Differences = [.. group.Differences.Select(one => new DifferenceView(one.Point, one.Expected, one.Counted, one.IsLoss, StepView.Of(one.Step)!, one.Seen is { } seen ? Shown(seen) : null))],
        Loads = [.. group.Loads.Select(load => new LoadView(load.Cage, load.Run, load.State, load.Count, load.CountOut, load.Machine, load.Programme, StepView.Of(load.In), StepView.Of(load.Out), load.Over))],
        Inspected = StepView.Of(group.Inspected),
        LastSeen = StepView.Of(group.LastSeen),
    };

    private static CountView Shown(PartsCount count) => new(count.Point, count.Count, count.Cage, StepView.Of(count.Step)!);
}
