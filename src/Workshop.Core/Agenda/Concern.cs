using Workshop.Core.Jobs;
using Workshop.Core.Route;

namespace Workshop.Core.Agenda;

/// <summary>Whose matter a job is: of a bench, or of a person.</summary>
public static class Concern
{
    private const string Benches = "benches/";
    private const string People = "people/";

    /// <summary>
    /// A piece of it lies there or is in their hands; a stage is begun there, or by them; or they started the check that runs, wherever the watch
    /// is worn. Where neither is named, every job is.
    /// </summary>
    /// <param name="bench">The bench's id.</param>
    /// <param name="person">The person's id.</param>
    public static bool Is(Job job, string? bench, string? person) =>
        (bench is null && person is null)
        || job.Pieces.Pieces.Any(piece => (bench is not null && piece.Holder == Benches + bench) || (person is not null && piece.Holder == People + person))
        || job.Standings.Touched.Values.Any(standing => standing.State == StageState.Running && ((bench is not null && standing.At.Contains(bench)) || (person is not null && standing.Hands.Contains(person))))
        || (person is not null && (job.WearChecks.Running?.StartedBy == person || job.WearChecks.RunningStatic?.StartedBy == person || job.Reserve.Running?.Person == person));
}
