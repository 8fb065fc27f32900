using System.Collections.Immutable;
using System.Globalization;
using NodaTime;
using NodaTime.Text;

namespace Workshop.Core.Warranties;

/// <summary>
/// Warranty days of a shop's own promise: the day of hand-over is not counted, the like-numbered day of the last month is the last
/// one, and the end of a short month stands in for a day it lacks. The manner of Regulation (EEC, Euratom) No 1182/71, article 3, and
/// of Dodds v Walker [1981] UKHL; whether law gives more is not computed here.
/// </summary>
public static class WarrantyArithmetic
{
    /// <summary>Said wherever warranty days are shown.</summary>
    public const string StatutoryRights = "Statutory rights may give more than this; local law decides.";

    private static readonly LocalDatePattern InWords = LocalDatePattern.Create("d MMMM uuuu", CultureInfo.InvariantCulture);

    /// <summary>A warranty line as it begins at hand-over.</summary>
    /// <exception cref="ArgumentException">The term is no positive period of years, months, weeks or days.</exception>
    public static WarrantyTerm Begin(WarrantyOffer offer, LocalDate handedOverOn) =>
        new(offer.Line, offer.Term, handedOverOn, LastDay(handedOverOn, offer.Term));

    /// <summary>The last day of a term, always computed from the day it runs from: stepping month by month would lose month ends.</summary>
    /// <exception cref="ArgumentException">The term is no positive period of years, months, weeks or days.</exception>
    public static LocalDate LastDay(LocalDate handedOverOn, Period term)
    {
        var last = term.HasTimeComponent
            ? handedOverOn
            : handedOverOn.PlusMonths(12 * term.Years + term.Months).PlusWeeks(term.Weeks).PlusDays(term.Days);
        return last > handedOverOn ? last : throw new ArgumentException($"'{term}' is no term of a warranty.", nameof(term));
    }

    /// <summary>
    /// Every line with the days that covered claims added: calendar days from receipt to return, each day once however many claims
    /// the watch was here for, and only on the lines decided. A stay that has not ended adds nothing yet.
    /// </summary>
    public static ImmutableArray<WarrantyLine> Lines(IEnumerable<WarrantyTerm> terms, IReadOnlyCollection<WarrantyClaim> claims) =>
        [.. terms.Select(term => Line(term, [.. claims.Where(claim => claim.Touches(term.Line)).OrderBy(claim => claim.Number)]))];

    /// <summary>Whether a fault reported on this day falls under the line; the day of hand-over and the last day included.</summary>
    public static bool Covered(WarrantyLine line, LocalDate on) => line.HandedOverOn <= on && on <= line.LastDay;

    private static WarrantyLine Line(WarrantyTerm term, ImmutableArray<WarrantyClaim> claims)
    {
        var days = DaysInHouse(claims.Where(claim => claim.Covered is true).SelectMany(claim => claim.Stays));
        var last = term.LastDay.PlusDays(days);
        var sentences = claims.Select(Said).Where(sentence => sentence.Length > 0).Prepend(Nominal(term));
        var result = days == 0 ? [] : new[] { $"With {Count(days, "day")} in the house the last day is {InWords.Format(last)}." };
        return new WarrantyLine(term.Line, term.HandedOverOn, term.LastDay, last, days, string.Join(' ', sentences.Concat(result)));
    }

    private static int DaysInHouse(IEnumerable<ClaimStay> stays)
    {
        var days = 0;
        LocalDate? counted = null;
        foreach (var (received, returned) in stays.OrderBy(stay => stay.ReceivedOn))
        {
            if (returned is not { } until)
            {
                continue;
            }

            var from = counted is { } before ? LocalDate.Max(before, received) : received;
            days += Math.Max(0, Period.DaysBetween(from, until));
            counted = LocalDate.Max(from, until);
        }

        return days;
    }

    private static string Nominal(WarrantyTerm term)
    {
        var shortMonth = term.Term is { Weeks: 0, Days: 0 } && term.LastDay.Day < term.HandedOverOn.Day
            ? ", the end of that month"
            : "";
        return $"{Term(term.Term)} from hand-over on {InWords.Format(term.HandedOverOn)}: {InWords.Format(term.LastDay)} is the last day{shortMonth}.";
    }

    private static string Said(WarrantyClaim claim) => claim.Covered switch
    {
        null => $"Claim {claim.Number} is not decided yet.",
        false => $"Claim {claim.Number} was not covered and adds nothing.",
        true => string.Join(' ', claim.Stays.OrderBy(stay => stay.ReceivedOn).Select(stay => Said(claim.Number, stay))),
    };

    private static string Said(int claim, ClaimStay stay) => stay.ReturnedOn is { } returned
        ? $"Claim {claim}, covered: here from {InWords.Format(stay.ReceivedOn)} to {InWords.Format(returned)}."
        : $"Claim {claim}, covered: here since {InWords.Format(stay.ReceivedOn)}, which adds nothing until the watch is returned.";

    private static string Term(Period term) => string.Join(
        " and ",
        new[] { (term.Years, "year"), (term.Months, "month"), (term.Weeks, "week"), (term.Days, "day") }
            .Where(part => part.Item1 != 0)
            .Select(part => Count(part.Item1, part.Item2)));

    private static string Count(int number, string unit) => number == 1 ? $"1 {unit}" : $"{number} {unit}s";
}
