using NodaTime;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Route;
using Workshop.Core.Stops;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Words;

public partial class PhraseTests
{
    private static object AMoment => new LocalDateTime(2026, 9, 23, 15, 40).InZoneStrictly(DateTimeZone.Utc);

    // As those of rates: a property.
    private static Dictionary<string, object[]> UsualPartsOfChecks => new()
    {
        ["Not right: {0}"] = [new Series([WatchFunction.ChronographReset])],
        ["Not shown yet: {0}"] = [new Series([WatchFunction.WindingAndSetting])],
        ["Not under pressure: {0}"] = [new Series([NeverTested.CrystalDamaged])],
        ["Tried 1 to {0} times, and right at most as often."] = [1_000],
        ["{0} has no such figure."] = [WatchFunction.ChronographReset],
        ["A remark is at most {0} letters."] = [2_000],
        ["A calendar shows 1 to {0}."] = [31],
        ["A reserve is 1 to {0} hours."] = [2_000],
        ["A name has 1 to {0} letters."] = [120],
        ["{0} of {1} right: that is a fail by the shop's rule"] = [9, 10],
        ["{0}: by its figures it is not right"] = [WatchFunction.ChronographReset],
        ["{0}: by its figures it is right"] = [WatchFunction.ChronographReset],
        ["{0}: not fitted"] = [WatchFunction.ChronographReset],
        ["{0} not right: back to {1}"] = [WatchFunction.ChronographReset, Stage.Inspection],
        ["{0} not right"] = [WatchFunction.ChronographReset],
        ["{0} right; {1} still to show"] = [WatchFunction.ChronographReset, 4],
        ["{0} right"] = [WatchFunction.ChronographReset],
        ["Look at it {0}; nobody winds it"] = ["Thu 5 Mar 01:30"],
        ["Ran {0} h of {1} h: passed"] = [new Figure(43.4m), new Figure(42, "0.#")],
        ["Ran its {0} h: passed"] = [new Figure(42, "0.#")],
        ["Ran {0} h of {1} h: short; a manager may let it pass"] = [new Figure(40.1m), new Figure(42, "0.#")],
        ["Ran {0} h of {1} h: short. Back to {2}"] = [new Figure(34.6m), new Figure(42, "0.#"), Stage.Inspection],
        ["Ran {0} to {1} h; {2} h are asked"] = [new Figure(34.1m), new Figure(47.5m), new Figure(42, "0.#")],
        ["Runs after {0} h; look {1}"] = [new Figure(34.1m), "Thu 5 Mar 01:30"],
        ["Tight, against a caution: {0}"] = [WaterCaution.WetBeforeDry],
        ["It leaks, and against a caution: {0}"] = [WaterCaution.ColdWatch],
        ["It stopped after {0}: back to diagnosis"] = [AShortRun],
        ["It stopped after {0}"] = [new Series([AShortRun, AShortRun, AShortRun], AnyOne: true)],
        ["It stopped; by its hands at one of {0} moments"] = [14],
        ["{0} h {1} min"] = [6, 10],
        ["Cause kept: {0}"] = [StopCause.EscapementOrDirt],
        ["No fast setting of the calendar from {0} to {1} by the hands: the customer is told."] = ["20:00", "03:00"],
        ["not known: ask {0}"] = [WaterUnknown.CrystalCondition],
        ["A pass is a statement about that minute; worn in water, the watch is tested again after {0} months."] = [12],
        ["too few to say (n = {0})"] = [3],
        ["{0} of {1} (n = {1})"] = [3, 7],
        ["{0}: {1} % of what fits, for {2} minutes"] = [StopCause.Calendar, "80", 10],
        ["Due while closed: not before {0}"] = [AMoment],
        ["start before {0}, or not before {1}"] = [AMoment, AMoment],
        ["start not before {0}"] = [AMoment],
        ["{0} holds {1}"] = ["W-12", "J7K3MQ4T"],
        ["The set at full wind lacks {0} positions"] = [3],
        ["The second set lacks {0} positions"] = [3],
        ["Failed {0} times in the same hands"] = [2],
        ["{0} s/d, {1}° upright"] = [Figure.Signed(-12.4m), new Figure(223, "0")],
        ["{0} s/d, no amplitude"] = [Figure.Signed(-12.4m)],
        ["Read after {0} h: no verdict; start it anew"] = [new Figure(39.75m, "0.##")],
        ["Nothing to judge it by: {0}"] = ["+2.4 s/d, 223° upright"],
        ["Outside lying still: {0}"] = ["+2.4 s/d, 223° upright"],
        ["Read it from {0} to {1}"] = [AMoment, AMoment],
        ["After {0} h it would be settled."] = [new Figure(41, "0")],
        ["{0} s/d from what the last set foretells: something happened in casing."] = [Figure.Signed(-12.4m)],
        ["There were {0} midnights, not as many as told."] = [2],
        ["{0}."] = [WearNotice.Mist],
        ["start the static check before {0}, or not before {1}"] = [AMoment, AMoment],
        ["start the static check not before {0}"] = [AMoment],
        ["start the worn check from {0} on"] = [AMoment],
        ["winder place free: {0}"] = ["W-12"],
        ["no winder place free; the next one frees {0}"] = [AMoment],
    };
}
