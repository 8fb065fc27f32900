using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Warranties;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>
/// The days that a watch under warranty spends in the house are written into the job it comes from: its lines are longer by them, and nobody
/// has to remember it. They belong to the newest claim that waits for the watch.
/// </summary>
public static class ClaimStays
{
    /// <summary>The watch has come back for its claim; where none was reported there is nothing to keep.</summary>
    /// <param name="job">The job under which it is here.</param>
    public static void Came(Turn turn, Label old, Label job, LocalDate on, Caller caller, string? person)
    {
        if (Find(turn, old, claim => claim.Stay is null) is var (history, claim) && on >= history.Job.Warranty.HandedOverOn)
        {
            DeskCommand.Say(turn, history, caller, new ClaimStayRecorded { Claim = claim.Number, ReceivedOn = on, Job = job }, person);
        }
    }

    /// <summary>All of it has gone back to its owner.</summary>
    /// <param name="cameOn">The day it was taken in for the claim, for one that was reported while it was here.</param>
    public static void WentBack(Turn turn, Label old, LocalDate cameOn, LocalDate on, Caller caller, string? person)
    {
        if (Find(turn, old, claim => claim.Stay?.ReturnedOn is null && (claim.Stay is not null || claim.ReportedOn <= on)) is var (history, claim)
            && (claim.ReceivedOn ?? cameOn) is var received && received >= history.Job.Warranty.HandedOverOn && on >= received)
        {
            DeskCommand.Say(turn, history, caller, new ClaimStayRecorded { Claim = claim.Number, ReceivedOn = received, ReturnedOn = on }, person);
        }
    }

    private static (JobHistory History, Claim Claim)? Find(Turn turn, Label old, Func<Claim, bool> waits) =>
        turn.History(old) is { } history && history.Job.Warranty.Claims.LastOrDefault(waits) is { } claim ? (history, claim) : null;
}
