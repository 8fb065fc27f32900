using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;

namespace Workshop.Service.Storage;

/// <summary>
/// Whoever tells outside what became of a job, within the turn that decides. It draws what customers see and so stands above all that
/// decides; whoever puts the program together hands it to the writer.
/// </summary>
/// <param name="After">After a decision: the job as it was, what was decided, its cause, and when that happened.</param>
/// <param name="TakenIn">A watch came into the house, and all that is known of it is kept.</param>
/// <param name="Look">Looks whether a watch is where it was last said to be.</param>
public sealed record Outside(Action<Turn, Job, Decision, EventId, Instant> After, Action<Turn, Label> TakenIn, Action<Turn, Label> Look)
{
    /// <summary>Nobody hears anything: for whoever only fills a database.</summary>
    public static readonly Outside Nobody = new((_, _, _, _, _) => { }, (_, _) => { }, (_, _) => { });
}
