using Workshop.Core.Corrections;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>Writes a mended badge into every job that its stretch of numbers reached.</summary>
internal static class MendBadge
{
    // Rare, and by the key of identities: an index of its own would cost every event that is written.
    public const string ReachedSql = """
        select distinct stream
        from journal
        where site = @site
          and source = @source
          and sequence >= @from_sequence
          and sequence <= @to_sequence
          and stream like 'job/%'
        order by stream
        """;

    /// <param name="cause">The manager's own entry, written already.</param>
    public static void InEveryJob(Turn turn, Entry cause, PersonCorrected mended)
    {
        var known = mended with { Person = turn.Rules.PersonBehind(mended.Person)!.Id };
        var reached = turn.Query<string>(ReachedSql, new { site = turn.Site, source = mended.Source, from_sequence = mended.FromSequence, to_sequence = mended.ToSequence });
        foreach (var stream in reached)
        {
            JobTurn.Mend(turn, turn.History(Label.Read(stream["job/".Length..]))!, cause, known);
        }
    }
}
