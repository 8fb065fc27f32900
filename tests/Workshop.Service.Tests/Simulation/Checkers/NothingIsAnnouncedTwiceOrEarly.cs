using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Agenda;
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
        var announced = entries.Where(entry => entry.Event is DueAnnounced).Select(entry => (Entry: entry, Said: (DueAnnounced)entry.Event)).ToArray();
        foreach (var twice in announced.GroupBy(one => (one.Said.Kind, one.Said.Ref, one.Said.Level, one.Said.Due)).Where(group => group.Count() > 1))
        {
            yield return $"{label}: {twice.Key} was announced {twice.Count()} times.";
        }

        foreach (var (entry, said) in announced)
        {
            var notBefore = said.Level == AgendaLevel.Overdue ? said.Due + OverdueAfterAtLeast : said.Due;
            if (entry.Received < notBefore)
            {
                yield return $"{label}: {said} was announced at {entry.Received}.";
            }

            var then = Job.Replay(label, entries.Where(one => one.StreamVersion < entry.StreamVersion));
            if (!AgendaPlan.For(then, evidence.Rules).Any(row => row.Kind == said.Kind && row.Ref == said.Ref && row.Level == said.Level && row.Due == said.Due && row.Wake <= entry.Received))
            {
                yield return $"{label}: {said} was announced at {entry.Received}, and the job as it was then does not ask for it.";
            }
        }
    }
}
