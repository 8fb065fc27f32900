using Workshop.Core.Groups;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>
/// The gates about groups of parts. They exist once a bench has declared a group of the watch: a shop that keeps no groups is asked nothing. Common practice.
/// </summary>
public static class GroupGates
{
    private const string Screws = "screws";

    /// <summary>The takedown ends when every group that the kind of work has is declared or struck out, and its parts are counted.</summary>
    public static IEnumerable<Objection> EndTakedown(Job job, Asking asking)
    {
        if (!job.Groups.InUse)
        {
            yield break;
        }

        // A takedown that is told only by its end begins with it.
        var expected = job.Groups.Expected is { IsEmpty: false } known ? known : job.Route is { } route ? asking.Rules.Routes.GetValueOrDefault(route.Id)?.Groups ?? [] : [];
        if (job.Groups.UndeclaredOf(expected).Select(one => one.Group).ToArray() is { Length: > 0 } open)
        {
            yield return GateTable.Objects(
                "groups-declared", asking.Rules, Phrase.Of("Not declared: {0}", Terms(open)), Phrase.Of("declare them, or say that they are not fitted; a manager may waive it"), names: [("missing", Names(open))]);
        }

        var uncounted = job.Groups.Groups.Where(group => group is { Declared: not null, NeverWashed: false, NotFitted: false, Present: null }).Select(group => group.Id).ToArray();
        var needed = uncounted.Where(id => expected.Any(one => one.Group == id && one is { CountNeeded: true, Required: true })).ToArray();
        if (uncounted.Length > 0)
        {
            yield return NotCounted(needed.Length > 0 ? needed : uncounted, needed.Length > 0, asking);
        }
    }

    /// <summary>Cleaning ends when every group has ended, all that was declared went into a cage, and every cage was scanned empty.</summary>
    public static IEnumerable<Objection> EndCleaning(Job job, Asking asking)
    {
        if (!job.Groups.InUse)
        {
            yield break;
        }

        if (job.Groups.Open.Select(group => group.Id).ToArray() is { Length: > 0 } open)
        {
            yield return GateTable.Objects(
                "groups-ended", asking.Rules, Phrase.Of("Not cleaned yet: {0}", Terms(open)), Phrase.Of("wash them, clean them by hand, or say why not; a manager may waive it"), names: [("missing", Names(open))]);
        }

        if (job.Groups.Groups.Where(group => group.State == GroupState.Washed && group.InCages < group.Present).ToArray() is { Length: > 0 } fewer)
        {
            yield return GateTable.Objects(
                "counts-agree", asking.Rules, Phrase.Of("{0}: {1} of {2} were in cages", new Term("group", fewer[0].Id), fewer[0].InCages!.Value, fewer[0].Present!.Value), Phrase.Of("count the parts again; despite goes on"),
                names: [("groups", Names(fewer.Select(group => group.Id))), ("loaded", $"{fewer[0].InCages}"), ("expected", $"{fewer[0].Present}")]);
        }

        if (job.Cages.Loads.Where(load => load is { EmptiedAt: null, Doubted: false }).Select(load => load.Cage).Distinct().ToArray() is { Length: > 0 } cages)
        {
            yield return GateTable.Objects("cages-out", asking.Rules, Phrase.Of("Not scanned empty: {0}", string.Join(", ", cages)), Phrase.Of("empty the cages and scan them; despite goes on"), names: [("cages", string.Join(", ", cages))]);
        }
    }

    /// <summary>The watch is closed when all that came apart is accounted for: its group has ended, or was counted when it went together again.</summary>
    public static IEnumerable<Objection> Close(Job job, Asking asking)
    {
        if (!job.Groups.InUse)
        {
            yield break;
        }

        foreach (var group in job.Groups.Open.Where(group => group.CountAt(CountPoint.Rebuild) is not { } counted || group.Since is { } since && counted.Step.At < since.At))
        {
            var seen = group.LastSeen;
            var said = seen is { By: { } by } ? Phrase.Of("{0} is not accounted for; {1} had it last", new Term("group", group.Id), by) : Phrase.Of("{0} is not accounted for", new Term("group", group.Id));
            yield return GateTable.Objects(
                "groups-accounted", asking.Rules, said, Phrase.Of("count the parts or say what became of them; a manager may waive it"),
                names: [("missing", group.Id), .. seen is null ? Array.Empty<(string, string)>() : [("lastSeenBy", seen.By ?? ""), ("lastSeenAt", seen.At.ToString()), ("lastSeenBench", seen.Bench ?? "")]]);
        }
    }

    /// <summary>A group ends once: what has ended otherwise is opened again first, and what is in a run is nowhere else.</summary>
    public static IEnumerable<Objection> End(Job job, Asking asking, string id, GroupState to)
    {
        var group = job.Groups.Find(id);
        if (group?.Declared is null && to != GroupState.NotWashed && group?.NeverWashed != true)
        {
            foreach (var objection in Known(job, asking, id))
            {
                yield return objection;
            }
        }

        if (group is { State: GroupState.InRun } or { Ended: true } && group.State != to)
        {
            yield return GateTable.Objects(
                "group-open", asking.Rules,
                group.State == GroupState.InRun ? Phrase.Of("{0} is in a run", new Term("group", id)) : Phrase.Of("{0}: {1} already", new Term("group", id), new Term("groupState", Word.Of(group.State))),
                group.State == GroupState.InRun ? Phrase.Of("wait for the run") : Phrase.Of("open it again first, with the reason"),
                names: [("group", id), ("state", Word.Of(group.State)), ("by", group.Since?.By ?? ""), ("since", group.Since?.At.ToString() ?? "")]);
        }
    }

    /// <summary>What is said of a group is said of one that the bench has declared.</summary>
    public static IEnumerable<Objection> Known(Job job, Asking asking, string id)
    {
        if (job.Groups.Find(id) is not ({ Declared: not null } or { NeverWashed: true }))
        {
            yield return GateTable.Objects("group-known", asking.Rules, Phrase.Of("{0} was not declared", new Term("group", id)), Phrase.Of("declare the group, or read its name again"), names: [("group", id)]);
        }
    }

    public static IEnumerable<Objection> Inspect(Job job, Asking asking, string id)
    {
        if (job.Groups.Find(id) is { Ended: false } group)
        {
            yield return GateTable.Objects(
                "group-ended", asking.Rules, Phrase.Of("{0} is not cleaned yet", new Term("group", id)), Phrase.Of("say first how it was cleaned"), names: [("group", id), ("state", Word.Of(group.State))]);
        }
    }

    /// <summary>Screws that are loose in a cage are counted: no hole says that one is missing.</summary>
    public static IEnumerable<Objection> Load(Job job, Asking asking, CageLoaded loaded)
    {
        if (loaded is { Group: Screws, Count: null } && job.Groups.Find(Screws)?.Present is null)
        {
            yield return NotCounted([Screws], needed: true, asking);
        }
    }

    /// <summary>True when the group is so already, and nothing would change.</summary>
    public static bool AlreadySo(Job job, WorkshopEvent one) => one switch
    {
        GroupHandCleaned cleaned => job.Groups.Find(cleaned.Group)?.State == GroupState.HandCleaned,
        GroupNotWashed not => job.Groups.Find(not.Group) is { State: GroupState.NotWashed } group && group.Reason == not.Reason,
        GroupReopened reopened => job.Groups.Find(reopened.Group) is { NeverWashed: true } or { State: GroupState.Open },
        _ => false,
    };

    private static Objection NotCounted(string[] groups, bool needed, Asking asking) => GateTable.Objects(
        "count-written", asking.Rules, Phrase.Of("Not counted: {0}", Terms(groups)), needed ? Phrase.Of("count the parts") : Phrase.Of("count the parts; despite goes on"),
        needed ? Strength.Stop : null, ("missing", Names(groups)));

    private static Series Terms(IEnumerable<string> groups) => new([.. groups.Select(group => (object)new Term("group", group))]);

    private static string Names(IEnumerable<string> groups) => string.Join(", ", groups);
}
