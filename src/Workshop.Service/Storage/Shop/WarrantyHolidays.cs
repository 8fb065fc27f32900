using System.Collections.Frozen;
using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Warranties;

namespace Workshop.Service.Storage.Shop;

/// <summary>The public holidays that the shop's warranty rule sets ask for; what a warranty meets of them is frozen with it at hand-over.</summary>
internal static class WarrantyHolidays
{
    // No clock is asked for the rules: every warranty that begins with this program ends in these years.
    private const int FromYear = 2020;
    private const int ThroughYear = 2050;

    /// <summary>By region; under <c>shop</c> those of the shop's own calendar. None where no rule set rolls over holidays.</summary>
    public static FrozenDictionary<string, ImmutableSortedSet<LocalDate>> Of(WarrantyRules rules, IEnumerable<LocalDate> ofTheShop) => rules.RuleSets
        .Where(one => one.Roll.When == RollWhen.WeekendOrHoliday)
        .Select(one => one.Roll.Calendar)
        .Distinct(StringComparer.Ordinal)
        .Where(IsKnown)
        .ToFrozenDictionary(
            id => id,
            id => id == RollRules.ShopCalendar ? ofTheShop.ToImmutableSortedSet() : HolidayRegions.DatesOf(id, FromYear, ThroughYear).Select(day => day.Date).ToImmutableSortedSet(),
            StringComparer.Ordinal);

    /// <summary>Whether holidays of such a calendar can be had.</summary>
    public static bool IsKnown(string calendar) => calendar == RollRules.ShopCalendar || HolidayRegions.Find(calendar) is not null;
}
