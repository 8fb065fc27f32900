using System.Collections.Immutable;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Money;
using Workshop.Core.Route;

namespace Workshop.Core.PersonalData;

/// <summary>Why somebody cannot be forgotten yet.</summary>
public enum StillNeeded
{
    /// <summary>A watch of theirs is here, or work on it is not over.</summary>
    WatchHere,

    /// <summary>Money is owed, by them or to them.</summary>
    MoneyOpen,

    /// <summary>A claim waits for its decision, or the watch that came for it has not gone home.</summary>
    ClaimOpen,

    /// <summary>A dispute is not closed.</summary>
    Dispute,

    /// <summary>A register or a court is asked about; only managers are told.</summary>
    Legal,
}

/// <summary>What stands against erasing who a customer is. Warranty that runs does not: it goes by the watch and its job, which stay.</summary>
public static class Erasure
{
    /// <summary>For one job of theirs.</summary>
    /// <param name="moneyKeptHere">Whether this service keeps the shop's money; where it does not, nothing is known of debts.</param>
    public static ImmutableArray<StillNeeded> Against(Job job, bool moneyKeptHere)
    {
        var account = Account.Of(job);
        return
        [
            .. job.TakenIn && !job.Standings.HandedOver ? [StillNeeded.WatchHere] : ImmutableArray<StillNeeded>.Empty,
            .. moneyKeptHere && job.Standings.Of(Stage.Closed).State != StageState.Done && (account.DueMinor > 0 || account.RefundMinor > 0) ? [StillNeeded.MoneyOpen] : ImmutableArray<StillNeeded>.Empty,
            .. job.Warranty.Claims.Any(claim => claim.Covered is null) ? [StillNeeded.ClaimOpen] : ImmutableArray<StillNeeded>.Empty,
            .. job.Holds.Standing.Any(hold => hold.Reason == HoldReason.Dispute) ? [StillNeeded.Dispute] : ImmutableArray<StillNeeded>.Empty,
            .. job.Holds.Standing.Any(hold => hold.Reason == HoldReason.Legal) ? [StillNeeded.Legal] : ImmutableArray<StillNeeded>.Empty,
        ];
    }
}
