using NodaTime;

namespace Workshop.Core.Shop;

/// <summary>
/// Easter Sunday by the Gregorian reckoning: the Sunday after the full moon of the church's tables on or after 21 March. The steps are
/// the rule without tables, published by an unnamed correspondent in Nature of 20 April 1876 (from memory).
/// </summary>
public static class Easter
{
    /// <param name="year">1583 or later: the reckoning began in autumn 1582.</param>
    /// <exception cref="ArgumentOutOfRangeException">An earlier year.</exception>
    public static LocalDate Sunday(int year)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(year, 1583);
        var golden = year % 19;
        var (century, ofCentury) = Math.DivRem(year, 100);
        var (leapCenturies, otherCenturies) = Math.DivRem(century, 4);
        var moonDrift = (century - ((century + 8) / 25) + 1) / 3;
        var epact = ((19 * golden) + century - leapCenturies - moonDrift + 15) % 30;
        var (leapYears, otherYears) = Math.DivRem(ofCentury, 4);
        var toSunday = (32 + (2 * otherCenturies) + (2 * leapYears) - epact - otherYears) % 7;
        var late = (golden + (11 * epact) + (22 * toSunday)) / 451;
        var (month, day) = Math.DivRem(epact + toSunday - (7 * late) + 114, 31);
        return new LocalDate(year, month, day + 1);
    }
}
