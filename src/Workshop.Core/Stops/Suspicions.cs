using System.Collections.Immutable;
using NodaTime;

namespace Workshop.Core.Stops;

/// <summary>How often each cause was found behind stops.</summary>
/// <param name="OfCalibre">Of this calibre alone; false where its calibre is not written down, and all stops of the shop are counted.</param>
public sealed record CauseCounts(ImmutableSortedDictionary<StopCause, int> Found, bool OfCalibre)
{
    public static CauseCounts None { get; } = new(ImmutableSortedDictionary<StopCause, int>.Empty, true);

    /// <summary>Stops whose cause was found; what was looked for and not found says nothing of causes.</summary>
    public int All => Found.Where(one => one.Key != StopCause.Unknown).Sum(one => one.Value);

    public int Of(StopCause cause) => Found.GetValueOrDefault(cause);
}

/// <summary>One suspicion about a stop.</summary>
/// <param name="Fits">Share of the possible moments at which its conditions hold; weighed down for what comes and goes.</param>
/// <param name="Probability">Of those that fit: what was found before, one more for each cause, times <paramref name="Fits"/>, as a share of them all.</param>
/// <param name="Found">How often it was found.</param>
/// <param name="OfFound">Of so many causes.</param>
/// <param name="TooFew">Too few were found to say anything.</param>
public sealed record Suspicion(StopCause Cause, decimal Fits, decimal Probability, int Found, int OfFound, bool TooFew);

/// <summary>What to do next.</summary>
/// <param name="PerMinute">Probability of what it tests, for each minute it takes.</param>
public sealed record NextTest(StopTestCost Test, Suspicion Suspicion, decimal PerMinute);

/// <summary>What a stop makes one suspect, most likely first.</summary>
public static class Suspicions
{
    /// <summary>The causes that can be suspected, in the order in which they are thought of; equals keep it.</summary>
    private static readonly ImmutableArray<StopCause> InOrder =
        [StopCause.Calendar, StopCause.HandsOrTooth, StopCause.MinuteCounter, StopCause.Winding, StopCause.EscapementOrDirt, StopCause.Intermittent];

    /// <summary>
    /// Each found cause counts one, and each cause begins at one (a Dirichlet prior of ones), so that nothing is certain and nothing impossible.
    /// </summary>
    /// <param name="others">Other stops of the same watch.</param>
    /// <param name="reserveHours">Stated for the movement; null where nobody knows.</param>
    public static ImmutableArray<Suspicion> Of(Stop stop, IEnumerable<Stop> others, decimal? reserveHours, CauseCounts counts, StopRules rules, DateTimeZone zone)
    {
        var moments = stop.Ran(zone).Candidates;
        var earlier = others.Where(other => other.Id != stop.Id).ToImmutableArray();
        var fits = InOrder.Where(cause => cause != StopCause.Intermittent)
            .Select(cause => (Cause: cause, Fits: Share(cause, stop, moments, earlier, reserveHours, rules)))
            .Where(one => one.Fits > 0)
            .ToImmutableArray();
        fits = fits.Add((StopCause.Intermittent, fits.IsEmpty ? 1 : rules.ComesAndGoes));

        var weights = fits.Select(one => (one.Cause, one.Fits, Weight: (counts.Of(one.Cause) + 1) * one.Fits)).ToImmutableArray();
        var sum = weights.Sum(one => one.Weight);
        return
        [
            .. weights
                .Select(one => new Suspicion(one.Cause, one.Fits, one.Weight / sum, counts.Of(one.Cause), counts.All, counts.All < rules.FewCauses))
                .OrderByDescending(one => one.Probability)
                .ThenBy(one => InOrder.IndexOf(one.Cause)),
        ];
    }

    /// <summary>The test that is worth most for its minutes; null where the shop has written down none for what is suspected.</summary>
    public static NextTest? Cheapest(ImmutableArray<Suspicion> suspicions, StopRules rules) =>
        suspicions
            .SelectMany(one => rules.Tests.Where(test => test.Cause == one.Cause).Select(test => new NextTest(test, one, one.Probability / test.Minutes)))
            .MaxBy(one => one.PerMinute);

    private static decimal Share(StopCause cause, Stop stop, ImmutableArray<RunTimeCandidate> moments, ImmutableArray<Stop> earlier, decimal? reserveHours, StopRules rules) => cause switch
    {
        StopCause.Calendar => Share(moments, one => IsBetween(one.Shows.TimeOfDay, rules.CalendarFrom, rules.CalendarUntil)),
        StopCause.HandsOrTooth => stop.Hands is { } hands && earlier.Any(other => other.Hands is { } there && IsSameMinute(hands.Time, there.Time, rules.SameMinuteWithin)) ? 1 : 0,
        StopCause.MinuteCounter => stop.Start.ChronographRunning ? 1 : 0,
        StopCause.Winding => stop.Start.Place == WearChecks.WearPlace.Winder ? Share(moments, one => IsTheReserve(one.RanFor, reserveHours, rules)) : 0,
        StopCause.EscapementOrDirt => Share(moments, one => (decimal)one.RanFor.TotalHours >= rules.EarlyHoursLeast && (decimal)one.RanFor.TotalHours <= rules.EarlyHoursMost),
        _ => 0,
    };

    private static decimal Share(ImmutableArray<RunTimeCandidate> moments, Func<RunTimeCandidate, bool> holds) =>
        moments.IsEmpty ? 0 : (decimal)moments.Count(holds) / moments.Length;

    private static bool IsTheReserve(Duration ran, decimal? reserveHours, StopRules rules)
    {
        var (least, most) = reserveHours is { } stated
            ? (stated - rules.AboutTheStatedHours, stated + rules.AboutTheStatedHours)
            : (rules.ReserveHoursLeast, rules.ReserveHoursMost);
        return (decimal)ran.TotalHours >= least && (decimal)ran.TotalHours <= most;
    }

    private static bool IsBetween(LocalTime time, LocalTime from, LocalTime until) => from <= until ? time >= from && time <= until : time >= from || time <= until;

    private static bool IsSameMinute(LocalTime one, LocalTime other, int within)
    {
        var apart = Math.Abs(one.Minute - other.Minute);
        return Math.Min(apart, 60 - apart) <= within;
    }
}
