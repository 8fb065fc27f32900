using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.Shop;

/// <summary>What is wrong with the parts of a calendar, each with its JSON Pointer: <c>/week/monday/0/closes</c>.</summary>
public static class CalendarFaults
{
    private const int LongestSearchDays = 3653;

    /// <param name="isHoliday">Whether a date is a public holiday.</param>
    public static IEnumerable<Fault> Of(
        IReadOnlyDictionary<IsoDayOfWeek, ImmutableArray<OpenSpan>> week,
        ImmutableArray<Closure> closures,
        IReadOnlyDictionary<LocalDate, ImmutableArray<OpenSpan>> extraOpenDays,
        Func<LocalDate, bool> isHoliday)
    {
        var hoursOfTheWeek = week.OrderBy(day => day.Key).SelectMany(day => HoursFaults(day.Value, $"/week/{Word.Of(day.Key)}"));
        var hoursOfDays = extraOpenDays.OrderBy(day => day.Key).SelectMany(day => day.Value.IsDefaultOrEmpty
            ? [new Fault($"/extraOpenDays/{day.Key:uuuu-MM-dd}", "An open day has hours")]
            : HoursFaults(day.Value, $"/extraOpenDays/{day.Key:uuuu-MM-dd}"));
        foreach (var fault in hoursOfTheWeek.Concat(hoursOfDays))
        {
            yield return fault;
        }

        var reversed = closures.Index().Where(one => one.Item.Through < one.Item.From).ToArray();
        foreach (var (at, closure) in reversed)
        {
            yield return new Fault($"/closures/{at}/through", $"The closure ends before it begins, on {closure.From:uuuu-MM-dd}");
        }

        if (week.All(day => day.Value.IsDefaultOrEmpty))
        {
            yield return new Fault("/week", "The week has no open day");
        }
        else if (reversed.Length == 0)
        {
            foreach (var (at, closure) in closures.Index().Where(one => !OpensAgainAfter(one.Item)))
            {
                yield return new Fault($"/closures/{at}", $"The shop would not open within ten years of {closure.From:uuuu-MM-dd}");
            }
        }

        // Extra open days are left aside: after the last of them the week must open again.
        bool OpensAgainAfter(Closure closure)
        {
            var last = closure.From > LocalDate.MaxIsoValue.PlusDays(-LongestSearchDays) ? LocalDate.MaxIsoValue : closure.From.PlusDays(LongestSearchDays);
            var day = closure.From;
            while (day < last)
            {
                if (closures.Where(one => one.From <= day && day <= one.Through).Select(one => (LocalDate?)one.Through).Max() is { } shutThrough)
                {
                    day = shutThrough < last ? shutThrough.PlusDays(1) : last;
                }
                else if (week.TryGetValue(day.DayOfWeek, out var hours) && !hours.IsDefaultOrEmpty && !isHoliday(day))
                {
                    return true;
                }
                else
                {
                    day = day.PlusDays(1);
                }
            }

            return false;
        }
    }

    private static IEnumerable<Fault> HoursFaults(ImmutableArray<OpenSpan> hours, string pointer)
    {
        if (hours.IsDefaultOrEmpty)
        {
            yield break;
        }

        foreach (var (at, span) in hours.Index().Where(one => one.Item.Closes <= one.Item.Opens))
        {
            yield return new Fault($"{pointer}/{at}/closes", $"It closes at {span.Closes:HH:mm}, not after it opens at {span.Opens:HH:mm}");
        }

        // Compared with every span before it in the list, so that the pointer leads to the one that was written later.
        foreach (var (at, span) in hours.Index())
        {
            if (hours.Take(at).Any(earlier => earlier.Opens < span.Closes && span.Opens < earlier.Closes))
            {
                yield return new Fault($"{pointer}/{at}", $"These hours overlap others of the day, at {span.Opens:HH:mm}");
            }
        }
    }
}
