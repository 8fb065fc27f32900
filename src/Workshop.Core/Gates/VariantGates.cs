using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>The gates around the kind of work: what it does not have, what it does not take, and what it must not leave in parts.</summary>
public static class VariantGates
{
    private const int KindsNamedAtMost = 3;

    /// <summary>A stage that this kind of work rules out or does not have; the sentence says which kind it is, and which has the stage.</summary>
    public static Objection NotInRoute(Job job, Asking asking, Stage stage)
    {
        var line = job switch
        {
            { Standings.ReturnsUnrepaired: true } => Phrase.Of("It goes back unrepaired: no {0}", stage),
            { Route: { } route } when route.Forbidden.Contains(stage) => Phrase.Of("{0} rules out {1}", route.Called, stage),
            { Route: { } route } => Phrase.Of("{0} has no {1}", route.Called, stage),
            _ => Phrase.Of("This kind of work has no {0}", stage),
        };
        object[] others = [.. KindsWith(job, asking, stage).Take(KindsNamedAtMost).Select(one => one.Called)];
        var helps = others.Length == 0
            ? Phrase.Of("a manager, by changing the kind of work")
            : Phrase.Of("a manager, by changing the kind of work to {0}", new Series(others, AnyOne: true));
        return GateTable.Objects("in-route", asking.Rules, line, helps, names: [("stage", Word.Of(stage)), ("variant", job.Intake.Variant)]);
    }

    /// <summary>A low amplitude is a dry or worn movement; turning the index would only hide it.</summary>
    public static IEnumerable<Objection> AmplitudeForRegulation(Job job, Asking asking)
    {
        if (job.Route is { RefusedBelowAmplitudeDegrees: { } least } route && job.Timekeeping.DialUpFullDegrees() is { } amplitude && amplitude < least)
        {
            var more = route.IfMoreIsNeeded is { } named ? asking.Rules.Routes.GetValueOrDefault(named) : null;
            yield return GateTable.Objects(
                "amplitude-for-regulation", asking.Rules, Phrase.Of("{0}° dial up is under {1}°: offer a service", new Figure(amplitude, "0.#"), new Figure(least, "0.#")),
                more is null ? Phrase.Of("a manager, by changing the kind of work") : Phrase.Of("a manager, by changing the kind of work to {0}", more.Called));
        }
    }

    /// <summary>A kind of work that ends before the movement is put together again must not begin in the middle of it.</summary>
    public static IEnumerable<Objection> MovementTogether(Job job, Asking asking, VariantChanged changed)
    {
        if (InParts(job) && asking.Rules.Routes.GetValueOrDefault(changed.Variant) is { } route && !route.Has(Stage.Rebuild) && !route.Has(Stage.ReturnUnrepaired))
        {
            yield return LeftOpen(asking);
        }
    }

    /// <summary>Where the route lets takedown and rebuild be left out, the one asks for the other before the case is closed.</summary>
    public static IEnumerable<Objection> NothingLeftOpen(Job job, Asking asking)
    {
        if (job.Standings.InPlan(Stage.Rebuild) is { Optional: true } && InParts(job))
        {
            yield return LeftOpen(asking);
        }
    }

    private static bool InParts(Job job) =>
        job.Standings.Of(Stage.Takedown) is { IsBehind: true } or { State: StageState.Running or StageState.GroundLost } && !job.Standings.Of(Stage.Rebuild).IsBehind;

    private static Objection LeftOpen(Asking asking) => GateTable.Objects(
        "movement-together", asking.Rules, Phrase.Of("The movement is in parts; nobody would put it together"), Phrase.Of("finish the rebuild, or choose a kind of work that has it"));

    private static IEnumerable<RouteDefinition> KindsWith(Job job, Asking asking, Stage stage)
    {
        var with = asking.Rules.Routes.Values.Where(route => route.Has(stage) && route.Id != job.Intake.Variant).OrderBy(route => route.Id, StringComparer.Ordinal).ToArray();
        return with.FirstOrDefault(route => route.Id == job.Route?.IfMoreIsNeeded) is { } named
            ? [named]
            : with.Where(route => route.Sold && (route.Quartz == true) == (job.Route?.Quartz == true));
    }
}
