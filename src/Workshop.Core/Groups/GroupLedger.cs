using System.Collections.Immutable;
using Workshop.Core.Journal;
using Workshop.Core.Parts;
using Workshop.Core.Route;

namespace Workshop.Core.Groups;

/// <summary>Stages that fell because a group is unknown or was opened again; they come back when it has been inspected.</summary>
/// <param name="Groups">Groups that are waited for.</param>
/// <param name="Inspection">The inspection stood, and fell too.</param>
public sealed record FallByGroups(ImmutableSortedSet<string> Groups, bool Inspection);

/// <summary>
/// The groups of parts of a job: what came apart, what became of it in cleaning, and every count of it. Each group ends in exactly one of
/// four ways. It never refuses: what was accepted counts, in the order of its places, and the last word about a group stands.
/// </summary>
public sealed record GroupLedger
{
    public ImmutableArray<PartsGroup> Groups { get; init; } = [];

    /// <summary>The groups that the job's kind of work has, as it was when the takedown began.</summary>
    public ImmutableArray<ExpectedGroup> Expected { get; init; } = [];

    public FallByGroups? Fall { get; init; }

    /// <summary>A bench has declared a group; before that, nobody is asked about any.</summary>
    public bool InUse => Groups.Any(group => group.Declared is not null);

    /// <summary>Groups in none of the four ends.</summary>
    public IEnumerable<PartsGroup> Open => Groups.Where(group => !group.Ended);

    public IEnumerable<CountDifference> Differences => Groups.SelectMany(group => group.Differences);

    /// <summary>Groups of the kind of work that are neither declared nor struck out as not fitted.</summary>
    public IEnumerable<ExpectedGroup> Undeclared => UndeclaredOf(Expected);

    public IEnumerable<ExpectedGroup> UndeclaredOf(ImmutableArray<ExpectedGroup> expected) => expected.Where(one => one is { Required: true, NeverWashed: false } && Find(one.Group) is not ({ Declared: not null } or { NotFitted: true }));

    public PartsGroup? Find(string group) => Groups.FirstOrDefault(one => one.Id == group);

    public Heard<GroupLedger> Apply(Entry entry, Standings standings) => entry.Event switch
    {
        GroupReopened { Group: var id } reopened when Find(id) is not { NeverWashed: true } => Reopen(Group(id) with { Reason = reopened.Reason, State = GroupState.Open, Loads = AllOver(Group(id)) }, entry, standings),
        GroupUnknown unknown => Unknown(unknown, entry, standings),
        GroupInspected { Group: var id } => Inspect(Group(id) with { Inspected = GroupStep.Of(entry) }),
        _ => new(Apply(entry)),
    };

    /// <summary>The takedown begins: what its kind of work has is known from now on, and what is never washed is there at once.</summary>
    public GroupLedger Begin(Entry entry) => !Expected.IsEmpty || entry.Judged.Groups is not { Expected: { IsEmpty: false } expected } ? this
        : expected.Where(one => one.NeverWashed && Find(one.Group) is null).Aggregate(this with { Expected = expected }, (ledger, one) => ledger.With(new PartsGroup
        {
            Id = one.Group,
            Flags = one.Flags,
            NeverWashed = true,
            State = GroupState.NotWashed,
            Reason = NeverWashedReason,
            Since = GroupStep.Of(entry),
        }));

    /// <summary>Somebody has sent the work back: from now on the stages are finished by being told so, not by a group.</summary>
    public GroupLedger ForgetTheFall() => Fall is null ? this : this with { Fall = null };

    public const string NeverWashedReason = "never-washed";

    private GroupLedger Apply(Entry entry) => entry.Event switch
    {
        GroupDeclared declared => With(Declare(Group(declared.Group), declared, entry)),
        GroupHandCleaned cleaned => With(End(Group(cleaned.Group), GroupState.HandCleaned, null, entry)),
        GroupNotWashed not => With(End(Group(not.Group), GroupState.NotWashed, not.Reason, entry)),
        GroupReplaced replaced => With(Replace(Group(replaced.Group), replaced.Part, entry)),
        CountRecorded count => With(Count(Group(count.Group), count, entry)),
        CageLoaded loaded => With(Load(Group(loaded.Group), loaded, entry)),
        CageEmptied emptied when Groups.LastOrDefault(group => Holds(group, emptied)) is { } group => With(Unload(group, emptied, entry)),
        GroupWashed washed => With(Result(Group(washed.Group), washed.Cage, washed.Run, entry, load => load with { State = WashState.Washed, Machine = washed.Machine, Programme = washed.Programme })),
        PartFitted { Group: { } id } fitted => With(Fit(Group(id), fitted)),
        _ => this,
    };

    private static PartsGroup Declare(PartsGroup group, GroupDeclared declared, Entry entry)
    {
        var never = entry.Judged.Groups?.NeverWashed == true;
        var after = group with { Declared = GroupStep.Of(entry), Members = declared.Members, Flags = declared.Flags, NeverWashed = never };

        // What is never washed has ended with being named; what is not after all, or is fitted after all, has not.
        if (never && group.State == GroupState.Open)
        {
            after = after with { State = GroupState.NotWashed, Reason = NeverWashedReason, Since = GroupStep.Of(entry) };
        }
        else if (!never && group is { State: GroupState.NotWashed, Reason: NeverWashedReason or GroupNotWashed.NotFitted })
        {
            after = after with { State = GroupState.Open, Reason = null, Since = GroupStep.Of(entry) };
        }

        if (declared.Count is not { } count)
        {
            return after;
        }

        // More than before: parts were put to it since. Fewer is for somebody to look at, as with any count.
        var counted = count >= (after.Present ?? count) ? after : Compare(after, CountPoint.Declared, after.Present!.Value, count, entry);
        return counted with
        {
            Owed = counted.Owed is { } owed && owed > count ? owed : count,
            Present = count,
            Counts = counted.Counts.Add(new PartsCount(CountPoint.Declared, count, GroupStep.Of(entry))),
        };
    }

    private static PartsGroup End(PartsGroup group, GroupState state, string? reason, Entry entry) =>
        group with { State = state, Reason = reason, Since = GroupStep.Of(entry), Inspected = null, Loads = AllOver(group) };

    // A part that is exchanged leaves the others as they are; a group that is exchanged before it was cleaned has ended.
    private static PartsGroup Replace(PartsGroup group, string part, Entry entry)
    {
        var after = group with { PartsOut = group.PartsOut.Add(part), Owed = group.Owed - 1, Present = group.Present - 1 };
        return group.State is GroupState.Open or GroupState.Unknown ? End(after, GroupState.Replaced, part, entry) : after;
    }

    private static PartsGroup Fit(PartsGroup group, PartFitted fitted)
    {
        // What it takes the place of was perhaps said to be out already.
        var isOut = fitted.Replaces is not { } old || group.PartsOut.Count(part => part == old) > group.PartsFitted.Count(part => part == old);
        var change = fitted.Replaces is null ? fitted.Pieces() : isOut ? 1 : 0;
        return group with
        {
            PartsOut = isOut ? group.PartsOut : group.PartsOut.Add(fitted.Replaces!),
            PartsFitted = group.PartsFitted.Add(fitted.Replaces ?? fitted.Part),
            Owed = group.Owed + change,
            Present = group.Present + change,
        };
    }

    private static PartsGroup Count(PartsGroup group, CountRecorded count, Entry entry)
    {
        var expected = count.At switch
        {
            CountPoint.Rebuild => group.Owed ?? group.Present,
            CountPoint.Unloaded => group.InCages ?? group.Present,
            _ => group.Present,
        };
        var after = expected is { } owed && owed != count.Count ? Compare(group, count.At, owed, count.Count, entry) : group;
        return after with
        {
            Owed = after.Owed ?? (count.At == CountPoint.Declared ? count.Count : null),
            Present = count.Count,
            Counts = after.Counts.Add(new PartsCount(count.At, count.Count, GroupStep.Of(entry))),
        };
    }

    private static PartsGroup Load(PartsGroup group, CageLoaded loaded, Entry entry)
    {
        if (group.Current.Any(load => load.Out is null && load.Cage == loaded.Cage && load.Run == loaded.Run))
        {
            return group;
        }

        // What was in an earlier run, or has ended, begins anew; several cages of one wash stay together.
        var opened = group.State == GroupState.InRun ? group : group with { Loads = AllOver(group), Inspected = null };
        var after = opened with
        {
            State = GroupState.InRun,
            Reason = null,
            Since = GroupStep.Of(entry),
            Loads = opened.Loads.Add(new GroupLoad(loaded.Cage, loaded.Run, loaded.Count, GroupStep.Of(entry))),
        };
        if (loaded.Count is not { } count)
        {
            return after;
        }

        // Fewer may be the first of several cages; that is asked when cleaning ends. More can be no group of this watch.
        var all = after.Current.Sum(load => load.Count ?? 0);
        var counted = after.Present is { } present && all > present ? Compare(after, CountPoint.Loaded, present, all, entry) : after;
        return counted with { Counts = counted.Counts.Add(new PartsCount(CountPoint.Loaded, count, GroupStep.Of(entry), loaded.Cage)) };
    }

    private static PartsGroup Unload(PartsGroup group, CageEmptied emptied, Entry entry)
    {
        var load = group.Loads.Last(one => IsIn(one, emptied));
        var after = group with { Loads = group.Loads.Replace(load, load with { Out = GroupStep.Of(entry), CountOut = emptied.Count }) };
        if (emptied.Count is not { } count)
        {
            return after;
        }

        // In is out, cage by cage; what one of them lacks, the group lacks.
        var missing = load.Count - count ?? 0;
        var counted = missing == 0 ? after : Compare(after, CountPoint.Unloaded, load.Count!.Value, count, entry);
        return counted with
        {
            Present = counted.Present - missing,
            Counts = counted.Counts.Add(new PartsCount(CountPoint.Unloaded, count, GroupStep.Of(entry), emptied.Cage)),
        };
    }

    private static PartsGroup Result(PartsGroup group, string cage, string run, Entry entry, Func<GroupLoad, GroupLoad> become)
    {
        var known = group.Loads.LastOrDefault(load => load.Cage == cage && load.Run == run);
        var load = become(known ?? new GroupLoad(cage, run, null, GroupStep.Of(entry))) with { Result = GroupStep.Of(entry) };
        var after = group with { Loads = known is null ? group.Loads.Add(load) : group.Loads.Replace(known, load) };
        return load.Over ? after : after with
        {
            State = after.Current.Any(one => one.State == WashState.Waiting) ? GroupState.InRun
                : after.Current.Any(one => one.State == WashState.Unknown) ? GroupState.Unknown
                : GroupState.Washed,
            Reason = (entry.Event as GroupUnknown)?.Reason,
            Since = GroupStep.Of(entry),
            Inspected = null,
        };
    }

    private static PartsGroup Compare(PartsGroup group, CountPoint point, int expected, int counted, Entry entry) =>
        group with { Differences = group.Differences.Add(new CountDifference(group.Id, point, expected, counted, GroupStep.Of(entry), group.Counts.LastOrDefault())) };

    private static ImmutableArray<GroupLoad> AllOver(PartsGroup group) => [.. group.Loads.Select(load => load with { Over = true })];

    private static bool Holds(PartsGroup group, CageEmptied emptied) => (emptied.Group is null || emptied.Group == group.Id) && group.Loads.Any(load => IsIn(load, emptied));

    private static bool IsIn(GroupLoad load, CageEmptied emptied) => load.Out is null && load.Cage == emptied.Cage && (emptied.Run is null || emptied.Run == load.Run);

    private Heard<GroupLedger> Unknown(GroupUnknown unknown, Entry entry, Standings standings)
    {
        var group = Result(Group(unknown.Group), unknown.Cage, unknown.Run, entry, load => load with { State = WashState.Unknown });
        return group.State == GroupState.Unknown ? Reopen(group, entry, standings) : new(With(group));
    }

    private Heard<GroupLedger> Reopen(PartsGroup group, Entry entry, Standings standings)
    {
        var after = With(group with { Since = GroupStep.Of(entry), Inspected = null });
        if (!standings.Of(Stage.Cleaning).IsBehind)
        {
            return new(Fall is null ? after : after with { Fall = Fall with { Groups = Fall.Groups.Add(group.Id) } });
        }

        var fall = new FallByGroups((Fall?.Groups ?? []).Add(group.Id), standings.Of(Stage.Inspection).IsBehind || Fall?.Inspection == true);
        return new(after with { Fall = fall }, new Fell(Stage.Cleaning));
    }

    // Cleaning and inspection of the one group fell, and with them the stages; both stand again when it has been looked at.
    private Heard<GroupLedger> Inspect(PartsGroup group)
    {
        var after = With(group);
        if (after.Fall is not { } fall || after.Open.Any() || fall.Groups.Any(id => after.Find(id)?.Inspected is null))
        {
            return new(after);
        }

        return fall.Inspection ? new(after with { Fall = null }, new Ended(Stage.Cleaning), new Ended(Stage.Inspection)) : new(after with { Fall = null }, new Ended(Stage.Cleaning));
    }

    private PartsGroup Group(string id) => Find(id) ?? new PartsGroup { Id = id };

    private GroupLedger With(PartsGroup group) => this with { Groups = Find(group.Id) is { } known ? Groups.Replace(known, group) : Groups.Add(group) };
}
