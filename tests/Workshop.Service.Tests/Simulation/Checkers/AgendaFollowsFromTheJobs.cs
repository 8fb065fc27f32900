using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Jobs;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>The agenda has a row for what falls due in each job, with the moment at which it is to be said, and no other; at the end nothing is left unsaid. What falls due in the house is no job's.</summary>
internal sealed class AgendaFollowsFromTheJobs : IChecker
{
    private const string AgendaSql = """
        select stream || ' ' || kind || ' ' || ref || ' ' || level || ' ' || coalesce(due, 'never') || ' ' || coalesce(wake, 'never') as what, wake
        from agenda
        where site = @site
          and stream like 'job/%'
        """;

    public IEnumerable<string> FaultsIn(Evidence evidence)
    {
        var stored = evidence.Rows<Stored>(AgendaSql).ToArray();
        var expected = evidence.Jobs
            .SelectMany(job => AgendaPlan.For(Job.Replay(job.Label, job.Entries), evidence.Rules).Select(row =>
                $"job/{job.Label} {Word.Of(row.Kind)} {row.Ref} {Word.Of(row.Level)} {Moment(row.Due)} {Moment(row.Wake)}"))
            .ToHashSet(StringComparer.Ordinal);
        foreach (var row in stored.Where(row => !expected.Remove(row.What)))
        {
            yield return $"'{row.What}' follows from no job.";
        }

        foreach (var missing in expected)
        {
            yield return $"'{missing}' is missing.";
        }

        foreach (var row in stored.Where(row => evidence.IsTheEnd && row.Wake <= Microseconds.Of(evidence.Now)))
        {
            yield return $"'{row.What}' was not said by {evidence.Now}.";
        }
    }

    private static string Moment(Instant? moment) => moment is { } at ? $"{Microseconds.Of(at)}" : "never";

    private sealed record Stored
    {
        public required string What { get; init; }

        public long? Wake { get; init; }
    }
}
