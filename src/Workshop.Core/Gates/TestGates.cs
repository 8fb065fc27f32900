using Workshop.Core.FunctionChecks;
using Workshop.Core.Jobs;
using Workshop.Core.ReserveTests;
using Workshop.Core.Stops;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>The gates around functions, reserve, water and stops. Common practice of the trade.</summary>
public static class TestGates
{
    /// <summary>A test of the reserve begins at full wind, alone, and with nobody wearing or winding the watch.</summary>
    public static IEnumerable<Objection> Start(Job job, Asking asking, ReserveTestStarted started)
    {
        if (started.FullyWound != true)
        {
            yield return GateTable.Objects("fully-wound", asking.Rules, Phrase.Of("Is it fully wound? Say so"), Phrase.Of("wind it by hand, then start"));
        }

        if (job.Reserve.Running is { } running)
        {
            yield return GateTable.Objects("one-check", asking.Rules, Phrase.Of("A reserve test is already running"), Phrase.Of("read that one first"), names: [("since", running.Set.At.ToString())]);
        }

        if (job.Stops.Going is [.., var check])
        {
            yield return GateTable.Objects(
                "reserve-undisturbed", asking.Rules, Phrase.Of("A check is running: winding and wearing spoil the reserve"), Phrase.Of("read the check first; a manager may waive it"),
                names: [("check", Word.Of(check.Kind)), ("since", check.Set.At.ToString())]);
        }
    }

    /// <summary>A watch whose reserve is tested is neither wound nor worn; asked only while such a test runs.</summary>
    public static IEnumerable<Objection> Undisturbed(Job job, Asking asking, WearCheckStarted started)
    {
        if (job.Reserve.Running is { } running)
        {
            yield return GateTable.Objects(
                "reserve-undisturbed", asking.Rules, Phrase.Of("A reserve test is running: winding and wearing spoil it"), Phrase.Of("read that one first; a manager may waive it"),
                names: [("check", Word.Of(started.Kind)), ("since", running.Set.At.ToString())]);
        }
    }

    public static IEnumerable<Objection> Running(Job job, Asking asking)
    {
        if (job.Reserve.Running is null)
        {
            yield return GateTable.Objects("check-running", asking.Rules, Phrase.Of("No reserve test is running"), Phrase.Of("start one"));
        }
    }

    /// <summary>What the watch has to show and has not, once a function of it was tried.</summary>
    public static IEnumerable<Objection> FunctionsShown(Job job, Asking asking)
    {
        var standing = job.Functions.Stand(job.Standings);
        var open = standing.Where(one => one.State == FunctionState.Open).ToArray();
        var wrong = standing.Where(one => one.State == FunctionState.NotRight).ToArray();
        if (open.Length + wrong.Length > 0)
        {
            yield return GateTable.Objects(
                "functions-shown", asking.Rules,
                wrong.Length > 0 ? Phrase.Of("Not right: {0}", Named(wrong)) : Phrase.Of("Not shown yet: {0}", Named(open)),
                Phrase.Of("whoever shows them; a manager may waive it"),
                names: [("open", string.Join(", ", open.Select(Words))), ("notRight", string.Join(", ", wrong.Select(Words)))]);
        }
    }

    /// <summary>Why a watch is never put under pressure, as far as the house knows; what nobody has written down keeps nobody from it.</summary>
    public static IEnumerable<Objection> NeverTested(Asking asking, WaterFacts facts)
    {
        if (facts.Never() is { IsEmpty: false } never)
        {
            yield return GateTable.Objects(
                "never-tested", asking.Rules, Phrase.Of("Not under pressure: {0}", new Series([.. never.Select(one => (object)one)])),
                Phrase.Of("whoever looks at it again; local rules and licensed practice decide"),
                names: [("reasons", string.Join(", ", never.Select(Word.Of)))]);
        }
    }

    public static IEnumerable<Objection> StopKnown(Job job, Asking asking, StopExplained explained)
    {
        if (job.Stops.Find(explained.Of) is null)
        {
            yield return GateTable.Objects("stop-known", asking.Rules, Phrase.Of("This watch has no such stop"), Phrase.Of("name the reading that found it stopped"), names: [("of", explained.Of.ToString())]);
        }
    }

    private static Series Named(FunctionStanding[] standing) => new([.. standing.Select(one => (object)one.OneOf[0])]);

    private static string Words(FunctionStanding standing) => string.Join(" or ", standing.OneOf.Select(Word.Of));
}
