using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>The gates around the worn check. Common practice of the trade.</summary>
public static class WearGates
{
    public static IEnumerable<Objection> Start(Job job, Asking asking, WearCheckStarted started)
    {
        foreach (var one in Wound(job, asking, started).Concat(OneCheck(job, asking)))
        {
            yield return one;
        }

        if (started.OffsetSeconds is null)
        {
            yield return GateTable.Objects("offset-noted", asking.Rules, Phrase.Of("Note the offset against the reference"), Phrase.Of("set it, read the offset, then start"));
        }

        if (job.WearChecks.LastJudged is { Verdict: WearVerdict.Stopped, EndedAt: { } stoppedAt } && !(job.Standings.Of(Stage.Diagnosis) is { State: StageState.Done, Since: { } told } && told > stoppedAt) && !job.Stops.ExplainedSince(stoppedAt))
        {
            yield return GateTable.Objects("cause-written", asking.Rules, Phrase.Of("It stopped; no cause is written yet"), Phrase.Of("a diagnosis; a manager may waive it"), names: [("stoppedAt", stoppedAt.ToString())]);
        }

        var limit = job.Route?.Wear?.FailsBeforeTheManager ?? int.MaxValue;
        if (job.WearChecks.CountedFails >= limit)
        {
            yield return GateTable.Objects("repeats-decided", asking.Rules, Phrase.Of("Failed {0} times; a manager decides", job.WearChecks.CountedFails), Phrase.Of("a manager"), names: [("fails", job.WearChecks.CountedFails.ToString())]);
        }
        else if (job.WearChecks.CountedFails >= 2 && asking.Person is { } person && job.WearChecks.FailedStarters() is [var alone] && alone == person)
        {
            yield return GateTable.Objects("second-watchmaker", asking.Rules, Phrase.Of("Failed {0} times in the same hands", job.WearChecks.CountedFails), Phrase.Of("a second watchmaker looks"), names: [("fails", job.WearChecks.CountedFails.ToString()), ("person", person)]);
        }
    }

    /// <summary>A check that lies still. It is a measurement: no stage has to stand for it, and none ends by it.</summary>
    public static IEnumerable<Objection> StartStatic(Job job, Asking asking, WearCheckStarted started)
    {
        foreach (var one in Wound(job, asking, started).Concat(OneCheck(job, asking)))
        {
            yield return one;
        }

        if (started.ChronographRunning == true)
        {
            yield return GateTable.Objects("chronograph-off", asking.Rules, Phrase.Of("The chronograph is running"), Phrase.Of("stop it, then start the check"));
        }
    }

    /// <summary>Whether somebody is there to measure it again in 23 to 25 h. Asked once: it reads the calendar.</summary>
    public static IEnumerable<Objection> StaticStartUseful(Asking asking)
    {
        var calendar = asking.Rules.Calendar;
        if (StaticStart.At(asking.At, calendar, asking.Rules.WearChecks.StaticMeasuring) is { Useful: false } start)
        {
            // What was still possible this morning is said too: tomorrow's closing is why.
            var latest = StaticStart.At(asking.At.InZone(calendar.Zone).Date.AtStartOfDayInZone(calendar.Zone).ToInstant(), calendar, asking.Rules.WearChecks.StaticMeasuring)?.LatestToday;
            List<(string, string)> names = [("nextUseful", start.NextUseful.ToString())];
            if (latest is { } last)
            {
                names.Add(("latestToday", last.ToString()));
            }

            yield return GateTable.Objects(
                "static-start", asking.Rules, Phrase.Of("Due while closed: not before {0}", start.NextUseful.InZone(calendar.Zone)),
                latest is { } before
                    ? Phrase.Of("start before {0}, or not before {1}", before.InZone(calendar.Zone), start.NextUseful.InZone(calendar.Zone))
                    : Phrase.Of("start not before {0}", start.NextUseful.InZone(calendar.Zone)),
                names: [.. names]);
        }
    }

    /// <summary>A place on a winder holds one watch. Asked once: it reads other jobs.</summary>
    public static IEnumerable<Objection> WinderPlaceFree(Job job, Asking asking, WearCheckStarted started, Func<string, Label?> wornAt)
    {
        if (started.WinderPlace is { } place && wornAt(place) is { } other && other != job.Label)
        {
            yield return GateTable.Objects("winder-place-free", asking.Rules, Phrase.Of("{0} holds {1}", place, other.ToString()), Phrase.Of("another place, or take that watch off"), names: [("place", place), ("job", other.ToString())]);
        }
    }

    public static IEnumerable<Objection> Running(Job job, Asking asking, WearCheckKind kind)
    {
        if (kind == WearCheckKind.Static ? job.WearChecks.RunningStatic is null : job.WearChecks.Running is null)
        {
            yield return GateTable.Objects(
                "check-running", asking.Rules, kind == WearCheckKind.Static ? Phrase.Of("No static check is running") : Phrase.Of("No worn check is running"), Phrase.Of("start one"));
        }
    }

    /// <summary>Hands that stand askew or mist under the glass are no pass without a word, whatever the rate.</summary>
    public static IEnumerable<Objection> LooksRight(Job job, Asking asking, WearCheckRead read)
    {
        if ((read.HandsAligned == false || read.Mist == true) && job.WearChecks.WouldBe(read, asking.At) == WearVerdict.Pass)
        {
            yield return GateTable.Objects(
                "looks-right", asking.Rules, read.Mist == true ? Phrase.Of("Mist under the glass: pass it all the same?") : Phrase.Of("Hands not aligned: pass it all the same?"),
                Phrase.Of("put it right first; despite passes it"));
        }
    }

    /// <summary>A static check is read by two sets of the same positions; inside its window they must be there.</summary>
    public static IEnumerable<Objection> SetsToCompare(Job job, Asking asking, WearCheckRead read)
    {
        if (job.WearChecks.RunningStatic is not { } still || !still.InWindow(asking.At) || read.Interim == true || read.Stopped == true)
        {
            yield break;
        }

        var (full, oneDay) = (still.FullSet(job.Timekeeping), still.OneDaySet(job.Timekeeping));
        if (full is null)
        {
            yield return GateTable.Objects("sets-to-compare", asking.Rules, Phrase.Of("No set at full wind since the start"), Phrase.Of("a fresh static check, with a set 15 to 60 minutes after winding"), names: [("missing", "full")]);
        }
        else if (still.MissingAtFull(full) is { IsEmpty: false } less)
        {
            yield return GateTable.Objects("sets-to-compare", asking.Rules, Phrase.Of("The set at full wind lacks {0} positions", less.Length), Phrase.Of("a fresh static check with all positions"), names: [("missing", "full"), ("positions", Named(less))]);
        }
        else if (oneDay is null)
        {
            yield return GateTable.Objects("sets-to-compare", asking.Rules, Phrase.Of("Measure it first: no set a day after winding"), Phrase.Of("a set with the wind state one-day, then read it"), names: [("missing", "one-day")]);
        }
        else if (still.Missing(full, oneDay) is { IsEmpty: false } missing)
        {
            yield return GateTable.Objects("sets-to-compare", asking.Rules, Phrase.Of("The second set lacks {0} positions", missing.Length), Phrase.Of("measure the same positions again"), names: [("missing", "one-day"), ("positions", Named(missing))]);
        }
    }

    private static string Named(IEnumerable<Position> positions) => string.Join(", ", positions.Select(position => Word.Of(position)));

    private static IEnumerable<Objection> Wound(Job job, Asking asking, WearCheckStarted started)
    {
        // A quartz watch is not wound.
        if (started.FullyWound != true && job.Route?.Quartz != true)
        {
            yield return GateTable.Objects("fully-wound", asking.Rules, Phrase.Of("Is it fully wound? Say so"), Phrase.Of("wind it by hand, then start"));
        }
    }

    private static IEnumerable<Objection> OneCheck(Job job, Asking asking)
    {
        if ((job.WearChecks.Running?.StartedAt ?? job.WearChecks.RunningStatic?.StartedAt) is { } since)
        {
            yield return GateTable.Objects("one-check", asking.Rules, Phrase.Of("A check is already running"), Phrase.Of("read that one first"), names: [("since", since.ToString())]);
        }
    }

    /// <summary>After a fail far outside the window the index is not the cure.</summary>
    public static IEnumerable<Objection> NoRegulationOverAFault(Job job, Asking asking)
    {
        if (job.WearChecks.FaultSuspected)
        {
            yield return GateTable.Objects("no-regulation-over-a-fault", asking.Rules, Phrase.Of("Far outside: look for the fault first"), Phrase.Of("inspection or rebuild"));
        }
    }
}
