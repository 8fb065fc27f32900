using System.Collections.Frozen;
using System.Collections.Immutable;
using NodaTime;
using PublicHoliday;
using Workshop.Core.Shop;
using Holiday = Workshop.Core.Shop.Holiday;

namespace Workshop.Service.Storage.Shop;

/// <summary>A region whose public holidays can be computed.</summary>
/// <param name="Id">ISO 3166-2 (ISO 3166-1 for a whole country), or <c>TARGET</c>.</param>
/// <param name="Disagreement">What is in doubt: days about which lists of holidays disagree, or that only a part of the region keeps.</param>
public sealed record HolidayRegion(string Id, string Name, string? Disagreement)
{
    internal Func<int, IEnumerable<Holiday>> InYear { get; init; } = _ => [];
}

/// <summary>
/// Every region whose public holidays are known, with how its dates are had: the one table of it. A holiday that is kept on another day
/// since its own is a weekend stands with that day alone. The days in doubt are those on which two lists of holidays that know nothing of
/// each other disagree about a weekday of 2025 to 2028.
/// </summary>
public static partial class HolidayRegions
{
    /// <summary>The first year that can be asked for: in earlier ones the library stumbles over two holidays on one day (Ascension on 1 May 2008).</summary>
    public const int Earliest = 2010;

    public const int Latest = 2100;

    /// <summary>What a day is called whose name the list does not have.</summary>
    private const string Nameless = "Public holiday";

    private static readonly FrozenDictionary<string, HolidayRegion> ById = Rows.ToFrozenDictionary(row => row.Id, StringComparer.Ordinal);

    /// <summary>All of them, by id.</summary>
    public static ImmutableArray<HolidayRegion> All { get; } = [.. ById.Values.OrderBy(one => one.Id, StringComparer.Ordinal)];

    /// <summary>The region of this id, or null.</summary>
    public static HolidayRegion? Find(string id) => ById.GetValueOrDefault(id);

    /// <summary>The public holidays of a region in order of time, each date once.</summary>
    /// <param name="fromYear">Not before <see cref="Earliest"/>.</param>
    /// <param name="throughYear">Not after <see cref="Latest"/>.</param>
    /// <exception cref="ArgumentException">There is no such region.</exception>
    public static ImmutableArray<Holiday> DatesOf(string region, int fromYear, int throughYear)
    {
        var found = Find(region) ?? throw new ArgumentException($"There is no region '{region}'.", nameof(region));
        return
        [
            .. Enumerable.Range(fromYear, Math.Max(0, throughYear - fromYear + 1))
                .SelectMany(year => found.InYear(year).Where(day => day.Date.Year == year))
                .DistinctBy(day => day.Date)
                .OrderBy(day => day.Date),
        ];
    }

    /// <summary>
    /// The days on which TARGET is shut besides Saturdays and Sundays, since 2002 and without substitutes: European Central Bank, press
    /// release of 14 December 2000.
    /// </summary>
    private static IEnumerable<Holiday> ClosingDaysOfTarget(int year)
    {
        var easter = Easter.Sunday(year);
        yield return new Holiday(new LocalDate(year, 1, 1), "New Year's Day");
        yield return new Holiday(easter.PlusDays(-2), "Good Friday");
        yield return new Holiday(easter.PlusDays(1), "Easter Monday");
        yield return new Holiday(new LocalDate(year, 5, 1), "1 May");
        yield return new Holiday(new LocalDate(year, 12, 25), "Christmas Day");
        yield return new Holiday(new LocalDate(year, 12, 26), "26 December");
    }

    // Made anew for each question: the library's values may keep what they have computed, and belong to one thread. Its names are
    // asked for as a table, since those of its single days need the names of cultures, which a machine may lack.
    private static HolidayRegion Row(string id, string name, Func<IPublicHolidays> list, string? disagreement = null) => new(id, name, disagreement)
    {
        InYear = year =>
        {
            var holidays = list();
            var names = holidays.PublicHolidayNames(year);
            return holidays.PublicHolidays(year).Select(date => new Holiday(
                LocalDate.FromDateTime(date), names.TryGetValue(date.Date, out var called) && called.Length > 0 ? called : Nameless));
        },
    };

    private static HolidayRegion State(GermanPublicHoliday.States state, string name, string? disagreement = null) =>
        Row($"DE-{state}", $"Germany, {name}", () => new GermanPublicHoliday { State = state }, disagreement);

    private static HolidayRegion Canton(SwitzerlandPublicHoliday.Cantons canton, string name, string? disagreement = null) =>
        Row($"CH-{canton}", $"Switzerland, {name}", () => new SwitzerlandPublicHoliday { Canton = canton }, disagreement);

    private static HolidayRegion Province(string province, string name, string? disagreement) =>
        Row($"CA-{province}", $"Canada, {name}", () => new CanadaPublicHoliday(province), disagreement);

    private static HolidayRegion State(AustraliaPublicHoliday.States state, string name, string? disagreement = null) =>
        Row($"AU-{state}", $"Australia, {name}", () => new AustraliaPublicHoliday { State = state }, disagreement);

    private static string Doubt(string? taken = null, string? leftOut = null) => (taken, leftOut) switch
    {
        ({ } with, { } without) => $"Lists of holidays disagree. Taken here: {with}. Left out here: {without}. The shop's own list decides.",
        ({ } with, null) => $"Lists of holidays disagree. Taken here: {with}. The shop's own list decides.",
        _ => $"Lists of holidays disagree. Left out here: {leftOut}. The shop's own list decides.",
    };
}
