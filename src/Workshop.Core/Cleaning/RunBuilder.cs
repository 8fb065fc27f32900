using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Labels;

namespace Workshop.Core.Cleaning;

/// <summary>A group that waits to be washed.</summary>
/// <param name="Calibre">The movement's calibre by name; null where nobody has written it down.</param>
/// <param name="DueOn">The day the watch is promised by.</param>
public sealed record WaitingGroup(Label Job, string Group, ImmutableArray<string> Flags, string? Calibre, bool Urgent, LocalDate? DueOn);

/// <summary>Why a group is in a run that is proposed.</summary>
public enum ProposedBecause
{
    /// <summary>The job is urgent.</summary>
    Urgent,

    /// <summary>Of what waits it is promised first.</summary>
    PromisedFirst,

    /// <summary>It bears the same programme, and there is a place.</summary>
    FillsAPlace,

    /// <summary>It shares a run with nothing.</summary>
    Alone,
}

/// <summary>A group in a proposed run, and why.</summary>
public sealed record ProposedGroup(WaitingGroup Group, ProposedBecause Because);

/// <summary>A group that no run is proposed for, and what stands against it in the programme that comes nearest.</summary>
public sealed record LeftOut(WaitingGroup Group, ImmutableArray<WashObjection> Against, ImmutableArray<string> Instead);

/// <summary>A run as it is proposed.</summary>
public sealed record ProposedRun
{
    public required Programme Programme { get; init; }

    public required ImmutableArray<ProposedGroup> Groups { get; init; }

    /// <summary>As how many runs it counts on every filling.</summary>
    public required int CountsAs { get; init; }
}

/// <summary>What is proposed for a machine.</summary>
public sealed record RunProposal(ImmutableArray<ProposedRun> Runs, ImmutableArray<LeftOut> LeftOut);

/// <summary>
/// Proposes the next runs of a machine from what waits. The way is a plain one and no search: what waits is put in order (urgent first,
/// then by promised day, then by job and group); the first that has no run opens one, with the programme that takes most of what still
/// waits within the places of the machine (of equal ones the one the shop prefers); the others follow in the same order wherever the programme, the
/// calibre and the places allow. So the run of the most urgent comes first, and runs are full before there is another. Fewer runs may be
/// possible: a test compares with a search through all partitions.
/// </summary>
public static class RunBuilder
{
    public static RunProposal Propose(CleaningMachine machine, IEnumerable<Programme> programmes, IEnumerable<WaitingGroup> waiting, CleaningRules rules)
    {
        var able = programmes.Where(machine.Runs).OrderBy(one => one.Id, StringComparer.Ordinal).ToImmutableArray();
        var ordered = InOrder(waiting).ToList();
        var fits = ordered.ToDictionary(one => one, one => able.Where(programme => Compatibility.Judge(one.Flags, programme, machine, rules).Passes).ToImmutableArray());
        var left = ordered.Where(one => !fits[one].IsEmpty).ToList();
        var runs = ImmutableArray.CreateBuilder<ProposedRun>();
        while (left.Count > 0)
        {
            var run = fits[left[0]]
                .Select(programme => (Programme: programme, Groups: Fill(programme, left, machine, rules, fits)))
                .OrderByDescending(one => one.Groups.Count).ThenBy(one => one.Programme.Preference).ThenBy(one => one.Programme.Id, StringComparer.Ordinal)
                .First();
            runs.Add(new ProposedRun
            {
                Programme = run.Programme,
                Groups = [.. run.Groups.Select((one, i) => new ProposedGroup(one, Because(one, i, rules)))],
                CountsAs = run.Groups.Max(one => rules.CountsAs(one.Flags)),
            });
            left.RemoveAll(run.Groups.Contains);
        }

        return new RunProposal(runs.ToImmutable(), [.. ordered.Where(one => fits[one].IsEmpty).Select(one => Left(one, able, machine, rules))]);
    }

    /// <summary>Urgent first, then by promised day, then by job and group, so that the same house gives the same proposal.</summary>
    public static IEnumerable<WaitingGroup> InOrder(IEnumerable<WaitingGroup> waiting) => waiting
        .OrderByDescending(one => one.Urgent)
        .ThenBy(one => one.DueOn ?? LocalDate.MaxIsoValue)
        .ThenBy(one => one.Job.ToString(), StringComparer.Ordinal)
        .ThenBy(one => one.Group, StringComparer.Ordinal);

    /// <summary>Whether these groups may be in one run together, whatever the programme, without anybody being asked.</summary>
    public static bool MayShare(IReadOnlyCollection<WaitingGroup> groups, CleaningMachine machine, CleaningRules rules) =>
        groups.Count <= machine.Places
        && (groups.Count < 2 || !groups.Any(one => OwnRun(one, rules)))
        && groups.All(one => groups.All(other => MayMeet(one, other, rules)));

    private static List<WaitingGroup> Fill(
        Programme programme, List<WaitingGroup> left, CleaningMachine machine, CleaningRules rules, Dictionary<WaitingGroup, ImmutableArray<Programme>> fits)
    {
        var run = new List<WaitingGroup> { left[0] };
        foreach (var one in left.Skip(1).Where(one => fits[one].Contains(programme)))
        {
            if (MayShare([.. run, one], machine, rules))
            {
                run.Add(one);
            }
        }

        return run;
    }

    private static bool MayMeet(WaitingGroup one, WaitingGroup other, CleaningRules rules) =>
        one.Job == other.Job
        || (rules.Sharing.TwoJobsInOneRun < WashVerdict.Ask
            && (one.Calibre is null || other.Calibre is null ? rules.Sharing.CalibreUnknownInSharedRun < WashVerdict.Ask
                : one.Calibre != other.Calibre || rules.Sharing.SameCalibreInOneRun < WashVerdict.Ask));

    private static bool OwnRun(WaitingGroup one, CleaningRules rules) => one.Flags.Any(flag => rules.Parts.GetValueOrDefault(flag)?.OwnRun == true);

    private static ProposedBecause Because(WaitingGroup one, int place, CleaningRules rules) =>
        OwnRun(one, rules) ? ProposedBecause.Alone
        : one.Urgent ? ProposedBecause.Urgent
        : place == 0 ? ProposedBecause.PromisedFirst
        : ProposedBecause.FillsAPlace;

    // The programme that comes nearest: the one whose worst word is the mildest.
    private static LeftOut Left(WaitingGroup one, ImmutableArray<Programme> able, CleaningMachine machine, CleaningRules rules)
    {
        var nearest = able.Select(programme => Compatibility.Judge(one.Flags, programme, machine, rules)).OrderBy(verdict => verdict.Verdict).FirstOrDefault();
        return new LeftOut(one, nearest?.Against ?? [], nearest?.Instead ?? []);
    }
}
