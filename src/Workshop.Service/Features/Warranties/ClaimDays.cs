using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Service.Features.Warranties;

/// <summary>Days of a claim lie between hand-over and today.</summary>
internal static class ClaimDays
{
    public static IEnumerable<Fault> Faults(string pointer, LocalDate? day, LocalDate handedOverOn, LocalDate today)
    {
        if (day > today)
        {
            yield return new Fault(pointer, $"This day is to come; today is {today:uuuu-MM-dd}");
        }
        else if (day < handedOverOn)
        {
            yield return new Fault(pointer, $"This day is before hand-over on {handedOverOn:uuuu-MM-dd}");
        }
    }
}
