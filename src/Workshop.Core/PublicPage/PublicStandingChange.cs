using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Quotes;
using Workshop.Core.Shop;
using Workshop.Core.Warranties;

namespace Workshop.Core.PublicPage;

/// <summary>When a watch's public standing changes although nothing happens to it.</summary>
public static class PublicStandingChange
{
    /// <summary>The next such moment; null where time alone changes nothing.</summary>
    public static Instant? Next(Job job, ShopRules rules, Instant now)
    {
        if (PublicStanding.Asked(job, rules, now) is { } asked)
        {
            return rules.Calendar.EndOfDay(asked.ValidThrough);
        }

        // A parcel is presumed to have come some days after it went.
        return job is { Progress.Reached: PublicStage.OnItsWay, Warranty: { How: HandedOverHow.Dispatched, HandedOverOn: { } sent } }
            && rules.Calendar.Zone.AtStartOfDay(sent + rules.Warranties.Of(null).Start.PresumedDeliveredAfterDispatch).ToInstant() is var presumed && presumed > now
                ? presumed
                : null;
    }

    /// <summary>The quote that ran out before anybody answered; null where none did, or a newer one was sent.</summary>
    public static QuoteVersion? RunOut(Job job, ShopRules rules, Instant now) =>
        !job.Progress.HasLeft && job.Quotes.Newest is { Accepted: null } open && job.Quotes.IsForThisKind(open) && now >= rules.Calendar.EndOfDay(open.ValidThrough) ? open : null;
}
