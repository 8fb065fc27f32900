using System.Collections.Immutable;
using NodaTime;

namespace Workshop.Core.Warranties;

/// <summary>
/// Warranty days of a shop's own promise, by a rule set that is data. In the manner of Regulation (EEC, Euratom) No 1182/71, article 3,
/// and of Dodds v Walker [1981] UKHL where the day of hand-over is not counted; of BGB 187(2), 188(2), 188(3) where it is. Whether law
/// gives more is not computed here.
/// </summary>
/// <remarks>
/// Always from the original start, in this order: the nominal last day; a fixed term that claims add; the days in the house; rolling;
/// the later of that and of new work's own last day. Nothing a claim does makes a line end earlier.
/// </remarks>
public static class WarrantyArithmetic
{
    private const int TermYearsAtMost = 100;

    /// <summary>Whether this can be a term: more than nothing, in years, months, weeks and days, at most a hundred years.</summary>
    public static bool IsTerm(Period term) =>
        !term.HasTimeComponent && IsWithin(term, TermYearsAtMost) && (term.Years | term.Months | term.Weeks | term.Days) > 0;

    internal static bool IsWithin(Period span, int years) =>
        span is { Years: >= 0, Months: >= 0, Weeks: >= 0, Days: >= 0 } && (372L * span.Years) + (31L * span.Months) + (7L * span.Weeks) + span.Days <= 372L * years;

    /// <summary>The last day of a term, always computed from the day it runs from: stepping month by month would lose month ends.</summary>
    /// <exception cref="ArgumentException">The term is no positive period of years, months, weeks or days.</exception>
    public static LocalDate LastDay(LocalDate from, Period term, FirstDay firstDay = FirstDay.NotCounted)
    {
        if (!IsTerm(term))
        {
            throw new ArgumentException($"'{term}' is no term of a warranty.", nameof(term));
        }

        var months = (12 * term.Years) + term.Months;
        return (firstDay == FirstDay.Counted ? DayBeforeTheLikeNumbered(from, months) : from.PlusMonths(months)).PlusDays((7 * term.Weeks) + term.Days);
    }

    /// <summary>The last day of new work's own term.</summary>
    public static LocalDate? NewWorkLastDay(WarrantyRuleSet rules, LocalDate returnedOn) =>
        rules.NewWork is { } work ? LastDay(returnedOn, work.Least, rules.FirstDay) : null;

    /// <summary>Every line as it stands with the claims about it.</summary>
    /// <param name="deliveredOn">The latest day on which a parcel was proven to be delivered.</param>
    public static ImmutableArray<WarrantyLine> Lines(IEnumerable<WarrantyTerm> terms, IReadOnlyCollection<WarrantyClaim> claims, LocalDate? deliveredOn = null) =>
        [.. terms.Select(term => Line(term, [.. claims.Where(claim => claim.Touches(term.Line)).OrderBy(claim => claim.Number)], deliveredOn))];

    /// <summary>Whether a fault of this day falls under the line; the day of hand-over and the last day included.</summary>
    public static bool Covered(WarrantyLine line, LocalDate on) => line.HandedOverOn <= on && on <= line.LastDay;

    // The day before the like-numbered one, in the last month; where that lacks it, its last day. Going back a day before or after the
    // months is wrong by a day at the ends of months.
    private static LocalDate DayBeforeTheLikeNumbered(LocalDate first, int months)
    {
        if (first.Day == 1)
        {
            return first.PlusMonths(months).PlusDays(-1);
        }

        var last = new LocalDate(first.Year, first.Month, 1).PlusMonths(months);
        return last.PlusDays(Math.Min(first.Day - 1, last.Calendar.GetDaysInMonth(last.Year, last.Month)) - 1);
    }

    private static WarrantyLine Line(WarrantyTerm term, ImmutableArray<WarrantyClaim> claims, LocalDate? deliveredOn)
    {
        var starts = deliveredOn is { } proven && proven > term.StartsOn ? proven : term.StartsOn;
        var nominal = starts == term.StartsOn ? term.LastDay : LastDay(starts, term.Term, term.CountedBy.FirstDay);

        // A watch that came too late for its report counts from the day it came, and that has to lie within what earlier claims left.
        var counted = ImmutableArray<WarrantyClaim>.Empty;
        var tooLate = ImmutableHashSet<int>.Empty;
        foreach (var claim in claims.OrderBy(claim => claim.DayThatCounts(term.CountedBy.Claim) ?? LocalDate.MinIsoValue).ThenBy(claim => claim.Number))
        {
            if (claim.ArrivedTooLate(term.CountedBy.Claim) && claim.ArrivedOn > Extended(term, starts, nominal, counted).LastDay)
            {
                tooLate = tooLate.Add(claim.Number);
            }
            else
            {
                counted = counted.Add(claim);
            }
        }

        var extended = Extended(term, starts, nominal, counted);
        return new WarrantyLine(
            term.Line, term.HandedOverOn, starts, nominal, extended.LastDay, extended.Days, extended.NewWork?.LastDay,
            WarrantySentences.Of(term, starts, nominal, claims, tooLate, extended))
        {
            Term = term,
        };
    }

    private static Extension Extended(WarrantyTerm term, LocalDate starts, LocalDate nominal, ImmutableArray<WarrantyClaim> claims)
    {
        var rules = term.CountedBy;
        var adding = claims.Where(claim => Adds(claim, rules.Extension)).ToArray();
        var longEnough = adding.SelectMany(claim => claim.Stays).Where(stay => IsLongEnough(stay, rules.Extension)).ToArray();

        var times = rules.Extension is { Rule: not ExtensionRule.None, Fixed: not null } ? adding.Count(claim => claim.Stays.Any(stay => IsLongEnough(stay, rules.Extension))) : 0;
        times = rules.Extension.Once ? Math.Min(times, 1) : times;
        var afterFixed = times == 0 ? nominal : LastDay(starts, Enumerable.Repeat(rules.Extension.Fixed!, times).Aggregate(term.Term, (sum, more) => sum + more), rules.FirstDay);

        var days = rules.Extension.Rule == ExtensionRule.DaysInHouse ? DaysInHouse(longEnough, rules.Extension.BothEndDays) : 0;
        var extended = afterFixed.PlusDays(days);
        var rolled = term.DaysOff?.Roll(extended) ?? extended;
        var newWork = NewWork(rules, claims);
        return new Extension(times, afterFixed, days, longEnough.Sum(stay => stay.Days(rules.Extension.BothEndDays) ?? 0), extended, rolled, newWork);
    }

    internal static bool Adds(WarrantyClaim claim, ExtensionRules rules) => claim.Covered is true || (!rules.OnlyIfCovered && claim.Goodwill is null);

    internal static bool IsLongEnough(ClaimStay stay, ExtensionRules rules) => stay.Days(rules.BothEndDays) >= Math.Max(rules.LeastDays, 1);

    private static NewWorkEnd? NewWork(WarrantyRuleSet rules, ImmutableArray<WarrantyClaim> claims) => claims
        .Where(claim => claim.Covered is true)
        .SelectMany(claim => claim.Stays, (claim, stay) => (claim.Number, stay.ReturnedOn))
        .Where(work => work.ReturnedOn is not null && rules.NewWork is not null)
        .Select(work => new NewWorkEnd(work.Number, work.ReturnedOn!.Value, NewWorkLastDay(rules, work.ReturnedOn.Value)!.Value))
        .OrderBy(work => work.LastDay).ThenBy(work => work.Claim)
        .LastOrDefault();

    // Each day once, however many claims the watch was here for.
    private static int DaysInHouse(IEnumerable<ClaimStay> stays, bool bothEndDays)
    {
        var days = 0;
        LocalDate? counted = null;
        foreach (var (received, returned) in stays.OrderBy(stay => stay.ReceivedOn))
        {
            var until = returned!.Value.PlusDays(bothEndDays ? 1 : 0);
            var from = counted is { } before ? LocalDate.Max(before, received) : received;
            days += Math.Max(0, Period.DaysBetween(from, until));
            counted = LocalDate.Max(from, until);
        }

        return days;
    }
}

/// <summary>New work's own last day.</summary>
/// <param name="Claim">The claim whose work it was.</param>
internal sealed record NewWorkEnd(int Claim, LocalDate ReturnedOn, LocalDate LastDay);

/// <summary>The steps from a nominal last day to the one that counts.</summary>
/// <param name="Times">How often a fixed term was added.</param>
/// <param name="DaysTold">The days of all stays; more than <paramref name="Days"/> where some lie in several.</param>
internal sealed record Extension(int Times, LocalDate AfterFixed, int Days, int DaysTold, LocalDate Extended, LocalDate Rolled, NewWorkEnd? NewWork)
{
    public LocalDate LastDay => NewWork is { } work && work.LastDay > Rolled ? work.LastDay : Rolled;
}
