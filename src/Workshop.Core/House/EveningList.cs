using NodaTime;
using NodaTime.TimeZones;
using Workshop.Core.Shop;

namespace Workshop.Core.House;

/// <summary>When the safe is to have been counted.</summary>
public static class EveningList
{
    /// <summary>The shop's hour for it, else so long before the last closing of the day; never after that closing.</summary>
    /// <param name="day">An open day.</param>
    public static Instant DueOn(LocalDate day, ShopRules rules)
    {
        var closing = ClosingOn(day, rules.Calendar);
        return rules.Insurance.EveningListAt is { } hour ? Instant.Min(At(day, hour, rules.Calendar), closing) : closing - rules.Insurance.EveningListBefore;
    }

    /// <summary>The last closing of an open day.</summary>
    public static Instant ClosingOn(LocalDate day, ShopCalendar calendar) => At(day, calendar.SpansOn(day)[^1].Closes, calendar);

    private static Instant At(LocalDate day, LocalTime hour, ShopCalendar calendar) => calendar.Zone.ResolveLocal(day + hour, Resolvers.LenientResolver).ToInstant();
}
