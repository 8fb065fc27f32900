using NodaTime;
using Workshop.Core.Shop;

namespace Workshop.Core.Warranties;

/// <summary>How the watch left the house, as far as its warranty depends on it.</summary>
/// <param name="On">The day of hand-over: collected, or given to the carrier.</param>
/// <param name="ReadyOn">The day the customer could have had it; null where nothing says.</param>
public sealed record Leaving(HandedOverHow How, LocalDate On, LocalDate? ReadyOn);

/// <summary>
/// Where a warranty line starts and what is frozen with it. Common practice: with the hand-over; at the latest some days after it was
/// ready, when nobody came; for a parcel with its delivery, which is presumed until somebody says when it was.
/// </summary>
public static class WarrantyBeginning
{
    /// <summary>A warranty line as it begins.</summary>
    /// <exception cref="ArgumentException">The offer is none, or its term is no positive period of years, months, weeks or days.</exception>
    public static WarrantyTerm Begin(WarrantyOffer offer, Leaving leaving, ShopRules shop)
    {
        var rules = shop.Warranties.Of(offer.Rules);
        var begun = Begin(offer, leaving, rules);
        return begun with { DaysOff = DaysOff.LookUp(rules, begun.LastDay, shop.Calendar, shop.PublicHolidays) };
    }

    /// <summary>The same without a calendar: for rules that roll no last day.</summary>
    /// <exception cref="ArgumentException">The offer is none, or its term is no positive period of years, months, weeks or days.</exception>
    public static WarrantyTerm Begin(WarrantyOffer offer, Leaving leaving, WarrantyRuleSet rules)
    {
        var term = offer.Term ?? throw new ArgumentException($"The line '{offer.Line}' is none.", nameof(offer));
        var (start, from) = Start(leaving, rules.Start);
        return new WarrantyTerm(offer.Line, term, leaving.On, WarrantyArithmetic.LastDay(from, term, rules.FirstDay))
        {
            Start = start,
            From = from == leaving.On ? null : from,
            ReadyOn = start == WarrantyStart.ReadyUncollected ? leaving.ReadyOn : null,
            Text = offer.Text,
            Rules = rules,
        };
    }

    private static (WarrantyStart Start, LocalDate From) Start(Leaving leaving, WarrantyStartRules rules) =>
        leaving.How == HandedOverHow.Dispatched ? (WarrantyStart.PresumedDelivered, leaving.On + rules.PresumedDeliveredAfterDispatch)
        : leaving.ReadyOn is { } ready && ready + rules.NotCollectedAfterReady is var latest && latest < leaving.On ? (WarrantyStart.ReadyUncollected, latest)
        : (WarrantyStart.HandOver, leaving.On);
}
