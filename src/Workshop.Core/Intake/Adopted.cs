using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.Intake;

/// <summary>
/// An open job of the paper book that begins here midway. What came before stands as before our records: it fulfils what later stages
/// need without being a waiver, gives no evidence and enters no statistic.
/// </summary>
public sealed record Adopted
{
    /// <summary>The day the watch came into the house, as the paper book says.</summary>
    public required LocalDate TakenInOn { get; init; }

    /// <summary>The stage it is in now; every stage of the route before it, in route order over all branches, lies before our records.</summary>
    public required Stage At { get; init; }

    /// <summary>The date the customer was told; it stands as said, whatever the calendar would make of it.</summary>
    public LocalDate? PromisedOn { get; init; }

    /// <summary>The number the job has in the paper book.</summary>
    public string? OwnNumber { get; init; }

    /// <summary>What the customer agreed to, in minor units; told to those who may see amounts.</summary>
    public long? QuotedMinor { get; init; }

    /// <summary>What is wrong with it for a watch of this route.</summary>
    /// <param name="today">In the workshop's own calendar.</param>
    /// <param name="pointer">Where it stands in what was sent, for example <c>/adopted</c>.</param>
    public IEnumerable<Fault> Faults(RouteDefinition? route, LocalDate today, string pointer = "/adopted")
    {
        if (route is not null && (At == Stage.Intake || !route.Has(At)))
        {
            yield return new Fault($"{pointer}/at", "This is no stage at which such a job can go on; choose one of its route after intake");
        }

        if (TakenInOn > today)
        {
            yield return new Fault($"{pointer}/takenInOn", "This day is to come");
        }

        if (PromisedOn < TakenInOn)
        {
            yield return new Fault($"{pointer}/promisedOn", "Nothing was promised for a day before the watch came");
        }

        if (QuotedMinor < 0)
        {
            yield return new Fault($"{pointer}/quotedMinor", "Less than nothing was not agreed");
        }
    }
}
