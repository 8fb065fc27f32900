using System.Collections.Immutable;
using Workshop.Core.Casing;
using Workshop.Core.Gates;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Core.Jobs;

/// <summary>Numbers that disagree at casing are written into both jobs, also when the closing itself is refused.</summary>
internal static class MixUps
{
    public static ImmutableArray<StreamEntry> Write(Incoming incoming, Facts facts, ImmutableArray<Objection> against, GrowingJob growing)
    {
        if (incoming.Event is not CaseClosed closed || against.All(one => one.Gate != "three-numbers"))
        {
            return [];
        }

        var differing = FactGates.Differing(growing.Job, closed).ToImmutableArray();
        var other = OtherJob(incoming.Job, closed, differing, facts);
        var here = new MixUpSuspected { SeenAt = incoming.Job.ToString(), Other = other?.ToString(), Differing = differing };
        var cause = new Place(incoming.Effective, incoming.Id.Source, incoming.OrderSequence, 0);

        // The hold counts from receipt: what was done before it was known stays done.
        growing.Add(growing.Consequence(here, incoming.Id, cause, incoming.Received, facts.Rules.Version, incoming.Job, growing.Job.Version + 1, incoming.Received));
        if (other is { } second)
        {
            growing.WriteElsewhere(
                second,
                growing.Consequence(
                    here with { Other = incoming.Job.ToString() }, incoming.Id, cause, incoming.Received, facts.Rules.Version, second, facts.NextStreamVersion(second), incoming.Received));
        }

        return growing.Written;
    }

    private static Label? OtherJob(Label own, CaseClosed closed, ImmutableArray<string> differing, Facts facts)
    {
        foreach (var number in differing)
        {
            var read = number switch
            {
                FactGates.JobLabel => closed.JobLabel,
                FactGates.CaseSerial => closed.CaseSerial,
                _ => closed.MovementNumber,
            };
            if (read is not null && facts.OtherJobWithNumber(read) is { } other && other != own)
            {
                return other;
            }
        }

        return null;
    }
}
