using NodaTime;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Jobs;
using Workshop.Core.ReserveTests;
using Workshop.Core.Shop;
using Workshop.Core.Stops;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>What is said about functions, reserve, water and stops.</summary>
internal static class TestSaying
{
    private const int MomentsInALine = 3;

    public static (Signal Signal, Phrase Line) Of(Job job, FunctionChecked told, Incoming incoming)
    {
        var check = job.Functions.Checks.LastOrDefault(one => one.Id == incoming.Id);
        if (check is { FiguresDiffer: true })
        {
            return (Signal.Ask, told switch
            {
                { Passed: true, Trials: { } trials } when trials.Right < trials.Tried => Phrase.Of("{0} of {1} right: that is a fail by the shop's rule", trials.Right, trials.Tried),
                { Passed: true } => Phrase.Of("{0}: by its figures it is not right", told.Function),
                _ => Phrase.Of("{0}: by its figures it is right", told.Function),
            });
        }

        if (told.NotFitted == true)
        {
            return (Signal.Ok, Phrase.Of("{0}: not fitted", told.Function));
        }

        if (told.Passed != true)
        {
            return (Signal.Ask, check?.Terms.BackTo is { } back ? Phrase.Of("{0} not right: back to {1}", told.Function, back) : Phrase.Of("{0} not right", told.Function));
        }

        var open = job.Functions.Stand(job.Standings).Count(one => one.State == FunctionState.Open);
        return (Signal.Ok, open > 0 ? Phrase.Of("{0} right; {1} still to show", told.Function, open) : Phrase.Of("{0} right", told.Function));
    }

    public static (Signal Signal, Phrase Line) Started(Job job, ShopRules rules) => (Signal.Ok, job.Reserve.Running?.LookAt is { } at
        ? Phrase.Of("Look at it {0}; nobody winds it", at.InZone(rules.Calendar.Zone))
        : Phrase.Of("Started"));

    public static (Signal Signal, Phrase Line) Read(Job job, Incoming incoming, ShopRules rules)
    {
        if (job.Reserve.OfLook(incoming.Id) is not { } test)
        {
            return (Signal.Ok, Phrase.Of("Kept"));
        }

        var judged = ReserveJudgement.Of(test, rules.Calendar.Zone);
        var stated = new Figure(test.Terms.Hours, "0.#");
        return judged.Verdict switch
        {
            ReserveVerdict.Pass when judged.Exact => (Signal.Ok, Phrase.Of("Ran {0} h of {1} h: passed", Hours(judged.Least), stated)),
            ReserveVerdict.Pass => (Signal.Ok, Phrase.Of("Ran its {0} h: passed", stated)),
            ReserveVerdict.Short when judged.ByException => (Signal.Ask, Phrase.Of("Ran {0} h of {1} h: short; a manager may let it pass", Hours(judged.Most!.Value), stated)),
            ReserveVerdict.Short => (Signal.Ask, Phrase.Of("Ran {0} h of {1} h: short. Back to {2}", Hours(judged.Most!.Value), stated, Core.Route.Stage.Inspection)),
            ReserveVerdict.Inconclusive => (Signal.Ask, Phrase.Of("Ran {0} to {1} h; {2} h are asked", Hours(judged.Least), Hours(judged.Most!.Value), stated)),
            ReserveVerdict.RunningOn when test.LookAt is { } at => (Signal.Ok, Phrase.Of("Runs after {0} h; look {1}", Hours(judged.Least), at.InZone(rules.Calendar.Zone))),
            _ => (Signal.Ok, Phrase.Of("Kept")),
        };
    }

    /// <summary>A test that was made against a caution counts, and is said to be one; null where nothing was against it.</summary>
    public static (Signal Signal, Phrase Line)? Against(Job job, Incoming incoming) =>
        job.WaterTests.Tests.LastOrDefault(one => one.Id == incoming.Id) is { Against: [var first, ..] } test
            ? (Signal.Ask, test.Passed ? Phrase.Of("Tight, against a caution: {0}", first) : Phrase.Of("It leaks, and against a caution: {0}", first))
            : null;

    /// <summary>How long a watch ran that was found stopped, by its hands; null where they tell nothing.</summary>
    public static (Signal Signal, Phrase Line)? Stopped(Job job, Incoming incoming, ShopRules rules)
    {
        if (job.Stops.Find(incoming.Id)?.Ran(rules.Calendar.Zone).Candidates is not { IsEmpty: false } moments)
        {
            return null;
        }

        return (Signal.Ask, moments.Length switch
        {
            1 => Phrase.Of("It stopped after {0}: back to diagnosis", StopWords.For(moments[0].RanFor)),
            <= MomentsInALine => Phrase.Of("It stopped after {0}", new Series([.. moments.Select(one => (object)StopWords.For(one.RanFor))], AnyOne: true)),
            _ => Phrase.Of("It stopped; by its hands at one of {0} moments", moments.Length),
        });
    }

    private static Figure Hours(Duration ran) => new((decimal)ran.TotalHours, "0.0");
}
