using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Words;

namespace Workshop.Core.Warranties;

/// <summary>How a last day comes about, one sentence a step, to be read or read aloud.</summary>
internal static class WarrantySentences
{
    public static ImmutableArray<Phrase> Of(
        WarrantyTerm term, LocalDate starts, LocalDate nominal, ImmutableArray<WarrantyClaim> claims, ImmutableHashSet<int> tooLate, Extension extended) =>
        [
            Nominal(term, starts, nominal),
            .. Start(term, starts),
            .. claims.SelectMany(claim => Said(claim, term.CountedBy, tooLate.Contains(claim.Number))),
            .. Added(term.CountedBy.Extension, extended),
            .. Rolled(term.DaysOff, extended),
            .. NewWork(term.CountedBy, extended),
        ];

    private static Phrase Nominal(WarrantyTerm term, LocalDate starts, LocalDate nominal)
    {
        var from = starts != term.StartsOn ? Phrase.Of("delivery on {0}", new Spoken(starts))
            : term.Start switch
            {
                WarrantyStart.HandOver => Phrase.Of("hand-over on {0}", new Spoken(starts)),
                WarrantyStart.ReadyUncollected => Phrase.Of("the last day for collecting it, {0}", new Spoken(starts)),
                WarrantyStart.PresumedDelivered => Phrase.Of("presumed delivery on {0}", new Spoken(starts)),
            };
        var length = Spans.Of(term.Term);
        var counted = term.CountedBy.FirstDay == FirstDay.Counted;
        return (counted, IsShortMonth(term, starts, nominal)) switch
        {
            (false, false) => Phrase.Of("{0} from {1}: {2} is the last day.", length, from, new Spoken(nominal)),
            (false, true) => Phrase.Of("{0} from {1}: {2} is the last day, the end of that month.", length, from, new Spoken(nominal)),
            (true, false) => Phrase.Of("{0} from {1}, that day counted: {2} is the last day.", length, from, new Spoken(nominal)),
            (true, true) => Phrase.Of("{0} from {1}, that day counted: {2} is the last day, the end of that month.", length, from, new Spoken(nominal)),
        };
    }

    // Whether the last month lacks the day that would have been the last.
    private static bool IsShortMonth(WarrantyTerm term, LocalDate starts, LocalDate nominal)
    {
        var wanted = term.CountedBy.FirstDay == FirstDay.Counted ? starts.Day - 1 : starts.Day;
        return term.Term is { Weeks: 0, Days: 0 } && nominal.Day < wanted;
    }

    private static IEnumerable<Phrase> Start(WarrantyTerm term, LocalDate starts)
    {
        switch (term.Start)
        {
            case WarrantyStart.ReadyUncollected when term.ReadyOn is { } ready:
                yield return Phrase.Of(
                    "It was ready on {0} and collected on {1}; without that the warranty starts {2} after it was ready.",
                    new Spoken(ready), new Spoken(term.HandedOverOn), Spans.Of(term.CountedBy.Start.NotCollectedAfterReady));
                break;
            case WarrantyStart.PresumedDelivered when starts == term.StartsOn:
                yield return Phrase.Of(
                    "It was dispatched on {0}; where nobody proves a later day it counts as delivered {1} later.",
                    new Spoken(term.HandedOverOn), Spans.Of(term.CountedBy.Start.PresumedDeliveredAfterDispatch));
                break;
        }
    }

    private static IEnumerable<Phrase> Said(WarrantyClaim claim, WarrantyRuleSet rules, bool tooLate)
    {
        if (claim is { ReportedOn: { } reported, ArrivedOn: { } arrived } && claim.ArrivedTooLate(rules.Claim))
        {
            var within = Spans.Of(rules.Claim.WatchArrivesWithin!);
            yield return Phrase.Of(
                "Claim {0} was reported on {1}, but the watch came on {2}, more than {3} later: that report covers nothing.", claim.Number, new Spoken(reported), new Spoken(arrived), within);
            if (tooLate)
            {
                yield return Phrase.Of("On the day it came claim {0} was no longer in time and adds nothing.", claim.Number);
                yield break;
            }

            yield return Phrase.Of("For claim {0} the day it came counts.", claim.Number);
        }

        if (claim.Covered is null)
        {
            yield return Phrase.Of("Claim {0} is not decided yet.", claim.Number);
        }
        else if (claim is { Covered: false, Goodwill: { } goodwill })
        {
            yield return Phrase.Of("Claim {0} was not covered; done free of charge all the same: {1}, which adds nothing.", claim.Number, new Term("goodwill", goodwill));
        }
        else if (claim.Covered is false)
        {
            yield return rules.Extension.OnlyIfCovered
                ? Phrase.Of("Claim {0} was not covered and adds nothing.", claim.Number)
                : Phrase.Of("Claim {0} was not covered.", claim.Number);
        }
        else if (claim.Stays.IsEmpty && claim.ArrivesBy(rules.Claim) is { } by)
        {
            yield return Phrase.Of("Claim {0} is covered if the watch arrives by {1}.", claim.Number, new Spoken(by));
        }

        if (WarrantyArithmetic.Adds(claim, rules.Extension))
        {
            foreach (var stay in claim.Stays.OrderBy(stay => stay.ReceivedOn))
            {
                yield return Said(claim, stay, rules.Extension);
            }
        }
    }

    private static Phrase Said(WarrantyClaim claim, ClaimStay stay, ExtensionRules rules)
    {
        object who = claim.Covered is true ? Phrase.Of("Claim {0}, covered", claim.Number) : Phrase.Of("Claim {0}", claim.Number);
        if (stay.ReturnedOn is not { } returned)
        {
            return Phrase.Of("{0}: here since {1}, which adds nothing until the watch is returned.", who, new Spoken(stay.ReceivedOn));
        }

        var days = Spans.Days(stay.Days(rules.BothEndDays)!.Value);
        return WarrantyArithmetic.IsLongEnough(stay, rules) || rules.LeastDays <= 1
            ? rules.BothEndDays
                ? Phrase.Of("{0}: here from {1} to {2}, both days counted {3}.", who, new Spoken(stay.ReceivedOn), new Spoken(returned), days)
                : Phrase.Of("{0}: here from {1} to {2}, {3}.", who, new Spoken(stay.ReceivedOn), new Spoken(returned), days)
            : Phrase.Of("{0}: here from {1} to {2}, {3}; less than {4} add nothing.", who, new Spoken(stay.ReceivedOn), new Spoken(returned), days, Spans.Days(rules.LeastDays));
    }

    private static IEnumerable<Phrase> Added(ExtensionRules rules, Extension extended)
    {
        if (extended.Times > 0)
        {
            var term = Spans.Of(rules.Fixed!);
            yield return extended.Times > 1
                ? Phrase.Of("Covered claims add {0} each, {1} times: the last day is {2}.", term, extended.Times, new Spoken(extended.AfterFixed))
                : rules.Once
                    ? Phrase.Of("The first covered claim adds {0}, once: the last day is {1}.", term, new Spoken(extended.AfterFixed))
                    : Phrase.Of("A covered claim adds {0}: the last day is {1}.", term, new Spoken(extended.AfterFixed));
        }

        if (extended.Days > 0)
        {
            yield return extended.DaysTold > extended.Days
                ? Phrase.Of("With {0} in the house, each day once, the last day is {1}.", Spans.Days(extended.Days), new Spoken(extended.Extended))
                : Phrase.Of("With {0} in the house the last day is {1}.", Spans.Days(extended.Days), new Spoken(extended.Extended));
        }
    }

    private static IEnumerable<Phrase> Rolled(DaysOff? off, Extension extended)
    {
        if (off is null)
        {
            yield break;
        }

        if (extended.Rolled != extended.Extended)
        {
            var (day, last) = (new Spoken(extended.Extended, Weekday: true), new Spoken(extended.Rolled, Weekday: true));
            yield return off.WhyNot(extended.Extended) switch
            {
                DayOff.Weekend => Phrase.Of("{0} falls on a weekend, so that {1} is the last day.", day, last),
                DayOff.Holiday => Phrase.Of("{0} is a public holiday, so that {1} is the last day.", day, last),
                DayOff.Closed => Phrase.Of("On {0} the workshop is closed, so that {1} is the last day.", day, last),
            };
        }

        if (off.KnownThrough is null)
        {
            yield return Phrase.Of("Public holidays were not known at hand-over; weekends alone were looked at.");
        }
        else if (extended.Extended > off.KnownThrough)
        {
            yield return Phrase.Of("At hand-over the calendar was known through {0}; after it weekdays alone were looked at.", new Spoken(off.KnownThrough.Value));
        }
    }

    private static IEnumerable<Phrase> NewWork(WarrantyRuleSet rules, Extension extended)
    {
        if (extended.NewWork is { } work)
        {
            var least = Spans.Of(rules.NewWork!.Least);
            yield return work.LastDay > extended.Rolled
                ? Phrase.Of("The work of claim {0}, returned on {1}, has {2} of its own: {3} is later and counts.", work.Claim, new Spoken(work.ReturnedOn), least, new Spoken(work.LastDay))
                : Phrase.Of("The work of claim {0} has {1} of its own, to {2}, which is no later.", work.Claim, least, new Spoken(work.LastDay));
        }
    }
}
