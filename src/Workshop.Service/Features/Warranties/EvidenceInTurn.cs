using System.Collections.Immutable;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Warranties;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Warranties;

/// <summary>Evidence for whoever decides about a claim or settles a dispute.</summary>
public static class EvidenceInTurn
{
    /// <summary>Of a claim as it stands in a turn.</summary>
    public static ClaimEvidence Of(Turn turn, JobHistory history, Claim? claim) =>
        ClaimEvidence.Of(history.Job, history.Entries, claim, claim?.Job is { } back ? turn.History(back)?.Entries : null);

    /// <summary>Evidence that is named and not there.</summary>
    public static IEnumerable<Fault> Unknown(ImmutableArray<string>? because, Func<ClaimEvidence> evidence)
    {
        if (because is not { Length: > 0 } named)
        {
            yield break;
        }

        var known = evidence().All.Select(one => one.Id).ToHashSet(StringComparer.Ordinal);
        foreach (var (i, id) in named.Index().Where(one => !known.Contains(one.Item)))
        {
            yield return new Fault($"/because/{i}", "There is no such evidence");
        }
    }
}
