using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Corrections;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>What fell due is said once at each level, not before its moment, and only where the job as it then was says so.</summary>
internal sealed class NothingIsAnnouncedTwiceOrEarly : IChecker
{
    /// <summary>Working hours pass no faster than hours.</summary>
    private static readonly Duration OverdueAfterAtLeast = AgendaPlan.OverdueAfter;

    public IEnumerable<string> FaultsIn(Evidence evidence) => evidence.Jobs.SelectMany(job => FaultsOf(job.Label, job.Entries, evidence));

    private static IEnumerable<string> FaultsOf(Label label, ImmutableArray<Entry> entries, Evidence evidence)
    {
        foreach (var twice in entries.Select(entry => entry.Event).OfType<DueAnnounced>().GroupBy(said => (said.Kind, said.Ref, said.Level, said.Due)).Where(group => group.Count() > 1))
        {
            yield return $"{label}: {twice.Key} was announced {twice.Count()} times.";
        }

        var then = new Job { Label = label };
        var accepted = entries.OrderBy(entry => entry.StreamVersion).ToArray();
        foreach (var (entry, i) in accepted.Select((entry, i) => (entry, i)))
        {
            if (entry.Event is DueAnnounced said)
            {
                var notBefore = said.Level == AgendaLevel.Overdue ? said.Due + OverdueAfterAtLeast : said.Due;
                if (entry.Received < notBefore)
                {
                    yield return $"{label}: {said} was announced at {entry.Received}.";
                }

                if (!AgendaPlan.For(then, evidence.Rules).Any(row => row.Kind == said.Kind && row.Ref == said.Ref && row.Level == said.Level && row.Due == said.Due && row.Wake <= entry.Received))
                {
                    yield return $"{label}: {said} was announced at {entry.Received}, and the job as it was then does not ask for it.";
                }
            }

            // What is known with each entry, folded anew only where it came out of its order or says something of others.
            then = then.Last is { } last && (entry.Place.CompareTo(last) < 0 || Reckoning.Changes(entry)) ? Job.Replay(label, accepted.Take(i + 1)) : then.Apply(entry);
        }
    }
}
