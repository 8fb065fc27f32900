using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Core.Promises;

/// <summary>The day by which a watch that comes in now is ready nine times in ten.</summary>
/// <param name="OpenDays">Open days from intake.</param>
/// <param name="Jobs">Jobs of the kind that were counted; with <see cref="ReachableBasis.Usual"/>: how many there are so far.</param>
public sealed record ReachableDate(LocalDate On, int OpenDays, ReachableBasis Basis, int Jobs, Phrase Words)
{
    /// <summary>Nine of ten: a date that is kept so often is a good promise. Common practice.</summary>
    private const int OfTen = 9;

    /// <summary>Counts from what the shop has delivered, and where that is too little from what it promises.</summary>
    /// <param name="takenInAt">Counted from its day zero, which is not counted itself.</param>
    /// <param name="openDaysTaken">Open days from intake to ready of the last jobs of this kind of work, in any order.</param>
    public static ReachableDate For(Instant takenInAt, IReadOnlyCollection<int> openDaysTaken, RouteDefinition route, IntakeRules rules, ShopCalendar calendar)
    {
        var own = openDaysTaken.Count >= rules.DeliveredJobsForOwnFigures;
        var openDays = own ? NineInTen(openDaysTaken) : route.PromisedWorkingDays + rules.OpenDaysUntilApproval;
        var on = calendar.OpenDayAfter(calendar.DayZero(takenInAt), openDays);
        return own
            ? new ReachableDate(on, openDays, ReachableBasis.OwnFigures, openDaysTaken.Count, Phrase.Of(
                "Of the last {0} jobs of this kind nine in ten were ready within {1} open days: by {2}.", openDaysTaken.Count, openDays, on))
            : new ReachableDate(on, openDays, ReachableBasis.Usual, openDaysTaken.Count, Phrase.Of(
                "Too few jobs of this kind to count ({0} of {1}): {2} promised open days and {3} until an approval lead to {4}.",
                openDaysTaken.Count, rules.DeliveredJobsForOwnFigures, route.PromisedWorkingDays, rules.OpenDaysUntilApproval, on));
    }

    /// <summary>The smallest of the figures that nine in ten of them do not exceed (nearest rank).</summary>
    private static int NineInTen(IReadOnlyCollection<int> figures) => figures.Order().ElementAt((figures.Count * OfTen + 9) / 10 - 1);
}
