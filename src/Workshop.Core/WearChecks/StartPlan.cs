using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Core.WearChecks;

/// <summary>A place of the winder that a running check names.</summary>
/// <param name="Until">When somebody is there to take the watch off; null while its check is paused.</param>
public sealed record WornAtPlace(string Place, Label Job, Instant? Until);

/// <summary>What a start waits for.</summary>
public enum StartDependsOn
{
    /// <summary>The shop's hours, now and a day later.</summary>
    Hours,

    /// <summary>A free place on a winder.</summary>
    WinderPlace,

    /// <summary>Somebody of the house.</summary>
    People,
}

/// <summary>When a check may begin.</summary>
/// <param name="Owed">Lying or wear owed by it.</param>
/// <param name="LatestToday">The last useful start today; absent where today has none left.</param>
/// <param name="NextUseful">The first useful start from now on; absent while it waits for something without a date.</param>
/// <param name="WinderPlace">A free place, where the shop has winders.</param>
/// <param name="Line">In one sentence.</param>
public sealed record StartBy(
    WearCheckKind Kind, Duration Owed, Instant? LatestToday, Instant? NextUseful, ImmutableArray<StartDependsOn> DependsOn, string? WinderPlace, Phrase Line);

/// <summary>For every check that a job could begin now or next: when a start is of use, from the hours, the winders and the people of the shop.</summary>
public static class StartPlan
{
    /// <param name="places">Places of winders that are in use, by id.</param>
    /// <param name="taken">Those that a running check names.</param>
    public static IEnumerable<StartBy> For(Job job, ShopRules rules, Instant now, ImmutableArray<string> places, IReadOnlyCollection<WornAtPlace> taken)
    {
        if (!job.TakenIn || job.Standings.HandedOver || job.WearChecks.Running is not null || job.WearChecks.RunningStatic is not null || job.Route is not { } route)
        {
            yield break;
        }

        if (route.Quartz != true && route.Has(Stage.Regulation) && job.Standings.Stands(Stage.Rebuild) && Static(rules, now) is { } lying)
        {
            yield return lying;
        }

        if (route is { Wear: { } wear } && rules.WornWindowOf(route) is { } window && route.Has(Stage.WearCheck) && job.Standings.Of(Stage.WearCheck).State != StageState.Done)
        {
            var owed = job.WearChecks.TermsFor(wear, window, wear.ReadingResolutionSeconds, null, job.Stops.ComesAndGoes()).Owed;
            yield return Worn(rules, now, owed, places, taken);
        }
    }

    private static StartBy? Static(ShopRules rules, Instant now)
    {
        var calendar = rules.Calendar;
        if (StaticStart.At(now, calendar, rules.WearChecks.StaticMeasuring) is not { } start)
        {
            return null;
        }

        var owed = Duration.FromHours(24);
        return SomebodyIn(rules, start.NextUseful) is not { } someone
            ? new StartBy(WearCheckKind.Static, owed, null, null, [StartDependsOn.People], null, Phrase.Of("nobody of the house is there to start it"))
            : new StartBy(
                WearCheckKind.Static, owed, start.LatestToday, Instant.Max(start.NextUseful, someone), [StartDependsOn.Hours, StartDependsOn.People], null,
                start.LatestToday is { } latest
                    ? Phrase.Of("start the static check before {0}, or not before {1}", latest.InZone(calendar.Zone), start.NextDay.InZone(calendar.Zone))
                    : Phrase.Of("start the static check not before {0}", start.NextUseful.InZone(calendar.Zone)));
    }

    private static StartBy Worn(ShopRules rules, Instant now, Duration owed, ImmutableArray<string> places, IReadOnlyCollection<WornAtPlace> taken)
    {
        var calendar = rules.Calendar;
        var opening = calendar.NextOpening(now);
        if (SomebodyIn(rules, opening) is not { } someone)
        {
            return new StartBy(WearCheckKind.Worn, owed, null, null, [StartDependsOn.People], null, Phrase.Of("nobody of the house is there to start it"));
        }

        var from = Instant.Max(opening, someone);
        var latest = calendar.DateOf(from) == calendar.DateOf(now) ? calendar.OpenTimes(calendar.DateOf(now)).Select(open => (Instant?)open.Through).LastOrDefault() : null;
        if (places.IsEmpty)
        {
            return new StartBy(WearCheckKind.Worn, owed, latest, from, [StartDependsOn.Hours, StartDependsOn.People], null, Phrase.Of("start the worn check from {0} on", from.InZone(calendar.Zone)));
        }

        if (places.FirstOrDefault(place => taken.All(one => !string.Equals(one.Place, place, StringComparison.OrdinalIgnoreCase))) is { } free)
        {
            return new StartBy(WearCheckKind.Worn, owed, latest, from, [StartDependsOn.Hours, StartDependsOn.WinderPlace, StartDependsOn.People], free, Phrase.Of("winder place free: {0}", free));
        }

        // A check that waits to be read frees its place as soon as somebody is there.
        var frees = taken.Where(one => one.Until is not null && places.Contains(one.Place, StringComparer.OrdinalIgnoreCase)).Select(one => (Instant?)Instant.Max(one.Until!.Value, from)).Min();
        return new StartBy(
            WearCheckKind.Worn, owed, null, frees, [StartDependsOn.WinderPlace], null,
            frees is { } at ? Phrase.Of("no winder place free; the next one frees {0}", at.InZone(calendar.Zone)) : Phrase.Of("no winder place free; every check there stands still"));
    }

    // A shop that has written down no people is not stopped by that. Who has left is not there, and nobody's holidays are known.
    private static Instant? SomebodyIn(ShopRules rules, Instant from) =>
        rules.People.Count == 0 || rules.People.Values.Any(person => !person.HasLeft(rules.Calendar.DateOf(from))) ? from : null;
}
