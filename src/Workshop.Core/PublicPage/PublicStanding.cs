using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Money;
using Workshop.Core.Parts;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;
using Workshop.Core.Shop;

namespace Workshop.Core.PublicPage;

/// <summary>Where a watch is and on whom it waits, as its customer is told.</summary>
/// <param name="Since">Null before the watch is in the house.</param>
/// <param name="Next">What usually follows; null at the end.</param>
/// <param name="WaitingFor">Null where that is nothing a customer needs to know.</param>
/// <param name="PartExpectedOn">While it waits for parts: the day by which the last of them is expected; null where nobody has said one.</param>
public sealed record PublicStanding(PublicStage Stage, Instant? Since, PublicStage? Next, WaitingOn WaitingOn, WaitingFor? WaitingFor = null, LocalDate? PartExpectedOn = null)
{
    // These are looked into inside the house; that there is something to look into is no customer's matter before it is decided.
    private static readonly ImmutableArray<HoldReason> Ours =
        [HoldReason.Query, HoldReason.MixUp, HoldReason.Damage, HoldReason.Loss, HoldReason.Dispute, HoldReason.Legal, HoldReason.Person, HoldReason.Other];

    /// <summary>
    /// The furthest stage reached, and over it, while they last, the customer's own decision and the wait for a part. A decision goes
    /// before everything else: it is the one thing the customer can do.
    /// </summary>
    public static PublicStanding Of(Job job, ShopRules rules, Instant now)
    {
        var reached = job.Progress;
        if (reached.HasLeft)
        {
            return AfterHandOver(job, rules, now);
        }

        if (AskedSince(job, rules, now) is { } asked)
        {
            return new(PublicStage.YourDecision, asked, PublicStage.Approved, WaitingOn.You, PublicPage.WaitingFor.Decision);
        }

        var ours = job.Holds.Standing.Any(hold => Ours.Contains(hold.Reason));
        if (!ours && PartSince(job) is { } parts)
        {
            return new(PublicStage.WaitingForPart, parts.Since, AfterThePart(job), WaitingOn.Part, PublicPage.WaitingFor.Part, parts.On);
        }

        var (on, what) = ours ? (WaitingOn.Us, null) : Waits(job, rules);
        return new(reached.Reached, reached.Since, After(job, reached.Reached), on, what);
    }

    /// <summary>The quote that the customer is asked about, good until the end of its last day; null where none is open.</summary>
    public static QuoteVersion? Asked(Job job, ShopRules rules, Instant now) =>
        Open(job) is { } open && now < rules.Calendar.EndOfDay(open.ValidThrough) ? open : null;

    private static QuoteVersion? Open(Job job) =>
        !job.Progress.HasLeft && job.Quotes.Newest is { Accepted: null } open && job.Quotes.IsForThisKind(open) ? open : null;

    private static Instant? AskedSince(Job job, ShopRules rules, Instant now) =>
        Asked(job, rules, now) is { } open ? open.SentAt
        : Open(job) is null && job.Holds.Standing.FirstOrDefault(hold => hold is { Reason: HoldReason.Approval, Because: null }) is { } hold ? hold.From
        : null;

    // What is ordered is no wait while the work goes on without it.
    private static (Instant Since, LocalDate? On)? PartSince(Job job)
    {
        if (PublicRank.Of(job.Progress.Reached) >= PublicRank.Of(PublicStage.Ready))
        {
            return null;
        }

        var held = job.Holds.Standing.FirstOrDefault(hold => hold.Reason == HoldReason.Parts);
        AwaitedPart[] awaited = [.. job.Parts.Awaited().Where(part => held is not null || (part.Essential && job.Progress.Reached == PublicStage.Approved))];
        if (held is null && awaited.Length == 0)
        {
            return null;
        }

        var since = awaited.Select(part => part.Since).Concat(held is null ? [] : [held.From]).Min();
        return (since, awaited.Length > 0 && awaited.All(part => part.On is not null) ? awaited.Max(part => part.On) : null);
    }

    private static (WaitingOn On, WaitingFor? For) Waits(Job job, ShopRules rules)
    {
        if (job.Holds.Holds(HoldReason.Payment))
        {
            return (WaitingOn.You, PublicPage.WaitingFor.Payment);
        }

        if (job.Holds.Holds(HoldReason.Customer))
        {
            return (WaitingOn.You, PublicPage.WaitingFor.Information);
        }

        if (job.Progress.Reached == PublicStage.Ready)
        {
            return !IsReady(job) ? (WaitingOn.Us, null)
                : rules.Money.Kept == MoneyKept.Here && Account.Of(job) is { DueMinor: > 0, IsSettled: false } ? (WaitingOn.You, PublicPage.WaitingFor.Payment)
                : (WaitingOn.You, PublicPage.WaitingFor.Collection);
        }

        if (PromiseStart.Owed(job) is { } owed && PromiseStart.Of(job, owed.At, rules) is { IsKnown: false } start)
        {
            return (WaitingOn.You, start.Deposit ? PublicPage.WaitingFor.Deposit : PublicPage.WaitingFor.Information);
        }

        return (WaitingOn.Us, job.Holds.Holds(HoldReason.OutsideFirm) ? PublicPage.WaitingFor.OutsideFirm : null);
    }

    /// <summary>The watch can be had: its final control stands, or it goes back unrepaired.</summary>
    public static bool IsReady(Job job) =>
        job.Progress.Reached == PublicStage.Ready
        && (job.Standings.ReturnsUnrepaired ? job.Standings.Of(Route.Stage.ReturnUnrepaired).IsBehind : job.Standings.Stands(Route.Stage.FinalControl));

    private static PublicStanding AfterHandOver(Job job, ShopRules rules, Instant now)
    {
        var (stage, since) = (job.Progress.Reached, job.Progress.Since);

        // Nobody said when the parcel came: from the day it is presumed to have come it is said to be where it belongs.
        if (stage == PublicStage.OnItsWay && PresumedOn(job, rules) is { } presumed && rules.Calendar.DateOf(now) >= presumed)
        {
            (stage, since) = (PublicProgress.Ended(job), rules.Calendar.Zone.AtStartOfDay(presumed).ToInstant());
        }

        var claimed = job.Warranty.Claims.Any(claim => claim.DecidedAt is null);
        return new(
            stage, since, stage == PublicStage.OnItsWay ? PublicProgress.Ended(job) : null,
            claimed ? WaitingOn.Us : WaitingOn.Nobody, claimed ? PublicPage.WaitingFor.Claim : null);
    }

    private static LocalDate? PresumedOn(Job job, ShopRules rules) =>
        job.Warranty.HandedOverOn is { } left ? left + rules.Warranties.Of(null).Start.PresumedDeliveredAfterDispatch : null;

    private static PublicStage? After(Job job, PublicStage stage)
    {
        var rank = PublicRank.Of(stage);
        PublicStage? next = null;
        foreach (var planned in PublicRank.Planned(job.Standings, asks: !job.Quotes.AnyAccepted))
        {
            if (PublicRank.Of(planned) > rank)
            {
                next = planned;
                break;
            }
        }

        return next;
    }

    private static PublicStage? AfterThePart(Job job) =>
        PublicRank.Of(job.Progress.Reached) > PublicRank.Of(PublicStage.Approved) ? job.Progress.Reached : After(job, job.Progress.Reached);
}
