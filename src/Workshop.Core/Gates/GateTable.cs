using System.Collections.Frozen;
using System.Collections.Immutable;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>One family of gates: what it is by default in every workshop.</summary>
/// <param name="Default">Strength unless the shop's rules (or the route's need) say otherwise.</param>
/// <param name="Waivable">A manager may let one event through.</param>
/// <param name="Fixed">No rule of the shop changes it.</param>
/// <param name="PassesWhen">In words, for the page of gates.</param>
public sealed record GateFacts(string Family, GateKind Kind, Strength Default, bool Waivable, bool Fixed, string Code, string PassesWhen);

/// <summary>Every family of gates. Strengths are common practice and settings of the shop, but for the fixed ones.</summary>
public static class GateTable
{
    private static readonly ImmutableArray<GateFacts> Rows =
    [
        new("needs", GateKind.Job, Strength.Ask, true, false, "needs", "the stage that is needed stands"),
        new("in-route", GateKind.Job, Strength.Stop, false, false, "in-route", "the route of this kind of work has the stage"),
        new("finished-by-result", GateKind.Job, Strength.Stop, false, true, "finished-by-result", "the stage is one that can be said to be done"),
        new("not-yet-sent-back", GateKind.Job, Strength.Stop, false, false, "not-yet-sent-back", "the stage is not done"),
        new("nobody-else-at-it", GateKind.Job, Strength.Ask, false, false, "nobody-else-at-it", "no other person is at it"),
        new("hold", GateKind.Job, Strength.Stop, false, false, "hold", "no such hold stands"),
        new("intake", GateKind.Job, Strength.Ask, true, false, "intake", "the member is known"),
        new("polish-confirmed", GateKind.Job, Strength.Stop, true, false, "polish-confirmed", "a polish that is wished for was confirmed again"),
        new("fixed-date", GateKind.Fact, Strength.Ask, false, false, "fixed-date", "the day it is needed by can be kept nine times in ten"),
        new("handed-over", GateKind.Job, Strength.Stop, false, false, "handed-over", "the watch is in the house"),
        new("person-named", GateKind.Fact, Strength.Stop, false, false, "person-named", "the event names a person"),
        new("proof", GateKind.Fact, Strength.Stop, false, true, "proof", "the person has told the short number that only they know, or the key is a manager's"),
        new("proof-locked", GateKind.Fact, Strength.Stop, false, true, "proof-locked", "the person's number was not told wrong too often a short while ago"),
        new("rate-set-since-touch", GateKind.Job, Strength.Ask, false, false, "rate-set-since-touch", "a rate set follows the last touch of the index and the rebuild"),
        new("tolerance-met", GateKind.Job, Strength.Ask, true, false, "tolerance-met", "the newest judged sets since the last touch and rebuild pass their tolerance"),
        new("positions-complete", GateKind.Job, Strength.Stop, false, true, "positions-complete", "every position that the tolerance requires was measured; without one nothing passes"),
        new("criterion-fails", GateKind.Job, Strength.Stop, false, true, "criterion-fails", "the newest set that is judged by the criterion fails it"),
        new("takedown-order", GateKind.Job, Strength.Stop, true, false, "takedown-order", "what comes out first was told at a lower step"),
        new("takedown-step-free", GateKind.Job, Strength.Stop, true, false, "takedown-step-free", "no other step has the number"),
        new("let-down", GateKind.Job, Strength.Stop, true, false, "let-down", "the mainspring was let down, once a step of the takedown was told or a group declared"),
        new("must-findings", GateKind.Job, Strength.Ask, true, false, "must-findings", "nothing found that must be put right is still open"),
        new("three-numbers", GateKind.Fact, Strength.Stop, false, false, "three-numbers", "label, case serial and movement number agree"),
        new("pieces-together", GateKind.Job, Strength.Stop, true, false, "pieces-together", "movement, case, dial and hands are in the house and in somebody's hands"),
        new("piece-by-piece", GateKind.Job, Strength.Ask, false, false, "piece-by-piece", "what left with a delivery note comes back one piece at a time"),
        new("essential-parts", GateKind.Job, Strength.Ask, true, false, "essential-parts", "no part that the work cannot go on without is still to come"),
        new("part-free", GateKind.Fact, Strength.Ask, false, false, "part-free", "as many as are wanted lie on the shelf for nobody else"),
        new("reserved-for", GateKind.Fact, Strength.Ask, false, false, "reserved-for", "the part is not set aside for another watch"),
        new("one-holder", GateKind.Job, Strength.Stop, false, true, "held-by", "the piece is where the taker says, and free for them to take"),
        new("fully-wound", GateKind.Job, Strength.Stop, false, false, "fully-wound", "the person says that the watch is fully wound"),
        new("offset-noted", GateKind.Job, Strength.Stop, false, false, "offset-noted", "the offset at the start is noted"),
        new("one-check", GateKind.Job, Strength.Stop, false, false, "one-check", "no check of the kind is running"),
        new("check-running", GateKind.Job, Strength.Stop, false, false, "check-running", "a check of the kind is running"),
        new("cause-written", GateKind.Job, Strength.Stop, true, false, "cause-written", "a diagnosis was finished, or a cause written, since the watch stopped"),
        new("reserve-undisturbed", GateKind.Job, Strength.Ask, true, false, "reserve-undisturbed", "no check that winds or wears the watch runs beside a test of its reserve"),
        new("functions-shown", GateKind.Job, Strength.Ask, true, false, "functions-shown", "every function that the watch has to show is right, once one was tried"),
        new("never-tested", GateKind.Fact, Strength.Ask, true, false, "never-tested", "nothing that the house knows of the watch speaks against putting it under pressure"),
        new("stop-known", GateKind.Job, Strength.Stop, false, true, "stop-unknown", "the watch was found stopped by the reading that is named"),
        new("repeats-decided", GateKind.Job, Strength.Stop, true, false, "repeats-decided", "fewer fails are counted than a manager wants to see"),
        new("second-watchmaker", GateKind.Job, Strength.Ask, false, false, "second-watchmaker", "fewer than two fails are counted, or somebody else than before starts the next check"),
        new("chronograph-off", GateKind.Job, Strength.Ask, false, false, "chronograph-running", "nobody says that the chronograph is running"),
        new("static-start", GateKind.Fact, Strength.Stop, true, false, "static-start", "somebody is there to measure it again in 23 to 25 h"),
        new("sets-to-compare", GateKind.Job, Strength.Stop, false, false, "sets-to-compare", "a set at full wind and one a day later have the same positions"),
        new("winder-place-free", GateKind.Fact, Strength.Ask, false, false, "winder-place-taken", "no other watch is worn at that place of the winder"),
        new("looks-right", GateKind.Job, Strength.Ask, false, false, "looks-wrong", "hands are aligned and no mist is seen, or the rate does not pass"),
        new("static-window", GateKind.Job, Strength.Stop, false, true, "invalid-window", "a static check is read 23 to 25 h after its start; later it is neither pass nor fail"),
        new("wear-for-a-pass", GateKind.Job, Strength.Stop, false, true, "wear-for-a-pass", "a reading that passes has the wear that is owed for it, 22 h at least in the usual route; else it is interim"),
        new("rate-of-a-stopped-watch", GateKind.Job, Strength.Stop, false, true, "rate-of-a-stopped-watch", "a watch that stopped has no rate, and its check has failed"),
        new("no-regulation-over-a-fault", GateKind.Job, Strength.Ask, false, false, "no-regulation-over-a-fault", "the last reading lies within twice the window"),
        new("second-person", GateKind.Job, Strength.Stop, true, false, "second-person", "the person did not rebuild it"),
        new("checks-complete", GateKind.Job, Strength.Stop, false, false, "checks-complete", "every check has a result, an exception names a manager"),
        new("account-settled", GateKind.Job, Strength.Stop, true, false, "account-settled", "nothing is owed, or it is on account; where the shop keeps its money elsewhere it is not asked"),
        new("deposit", GateKind.Job, Strength.Stop, true, false, "deposit", "the deposit that the accepted quote asks for is here, or the job is on account"),
        new("pieces-home", GateKind.Job, Strength.Ask, false, false, "pieces-home", "every piece not given back is here"),
        new("label-replaced", GateKind.Job, Strength.Stop, false, true, "label-replaced", "the label under which it is told is still on the watch"),
        new("label-of-job", GateKind.Job, Strength.Stop, false, true, "label-not-of-job", "the label that is replaced is one of the job's"),
        new("label-free", GateKind.Fact, Strength.Stop, false, true, "label-taken", "the label names nothing else"),
        new("piece-known", GateKind.Job, Strength.Stop, false, true, "piece-unknown", "the job has the piece"),
        new("quote-newest", GateKind.Job, Strength.Stop, false, true, "quote-superseded", "the version answered is the newest"),
        new("newest-of-its-chain", GateKind.Fact, Strength.Stop, false, true, "corrected-already", "the entry named is neither void nor replaced"),
        new("own-and-fresh", GateKind.Fact, Strength.Stop, false, true, "not-yours-to-correct", "the same person corrects it within five minutes of its time, or a manager does"),
        new("needed-later", GateKind.Job, Strength.Stop, false, true, "needed-later", "no later entry passes its own gates only thanks to it"),
        new("waits-for-review", GateKind.Fact, Strength.Stop, false, true, "nothing-to-settle", "the report is noted and not settled yet"),
        new("movement-together", GateKind.Job, Strength.Ask, true, false, "movement-together", "the movement is whole, or the kind of work goes on to put it together"),
        new("amplitude-for-regulation", GateKind.Job, Strength.Stop, true, false, "amplitude-for-regulation", "dial up at full wind, the amplitude is not under what this kind of work regulates"),
        // Only where a party is known to have died.
        new("decider-there", GateKind.Job, Strength.Stop, false, true, "decider-gone", "whoever decides about the watch is alive"),
        new("groups-declared", GateKind.Job, Strength.Stop, true, false, "groups-declared", "every group that the kind of work has is declared or not fitted, once one is declared"),
        new("count-written", GateKind.Job, Strength.Ask, true, false, "count-written", "the parts of every declared group were counted"),
        new("groups-ended", GateKind.Job, Strength.Stop, true, false, "groups-ended", "every group was washed, cleaned by hand, not to be washed, or replaced, once one is declared"),
        new("counts-agree", GateKind.Job, Strength.Ask, false, false, "counts-agree", "as many parts went into cages as were declared"),
        new("cages-out", GateKind.Job, Strength.Ask, false, false, "cages-not-empty", "every cage of the watch was scanned empty"),
        new("groups-accounted", GateKind.Job, Strength.Stop, true, false, "groups-accounted", "every group has ended or was counted at the rebuild, once one is declared"),
        new("group-open", GateKind.Job, Strength.Stop, false, false, "group-ended-already", "the group is in no run and has not ended in another way"),
        new("group-known", GateKind.Job, Strength.Ask, false, false, "group-unknown", "the group was declared"),
        new("group-ended", GateKind.Job, Strength.Ask, false, false, "group-not-ended", "the group is cleaned"),
        new("cage-known", GateKind.Fact, Strength.Ask, false, false, "cage-unknown", "the cage is one that the shop has entered, where it has entered cages"),
        new("cage-free", GateKind.Fact, Strength.Stop, false, true, "cage-not-free", "the cage was scanned empty since it held another group"),
        new("cage-loaded", GateKind.Fact, Strength.Ask, false, false, "cage-not-loaded", "the cage holds parts of this watch"),
        new("never-washed", GateKind.Fact, Strength.Stop, false, true, "never-washed", "nothing in the group is never washed"),
        new("other-machine", GateKind.Fact, Strength.Stop, false, true, "other-machine", "parts of a case go into a machine for cases"),
        new("never-in-jar", GateKind.Fact, Strength.Stop, false, true, "never-in-jar", "no jar of the programme spoils the parts for good"),
        new("unfit-for-jar", GateKind.Fact, Strength.Stop, true, false, "unfit-for-jar", "the parts bear every jar of the programme, its minutes, its speed and its warmth"),
        new("jar-unsure", GateKind.Fact, Strength.Ask, false, false, "jar-unsure", "the table knows that the parts bear every jar"),
        new("run-open", GateKind.Fact, Strength.Stop, false, false, "run-not-open", "the run has neither been started nor aborted"),
        new("run-started", GateKind.Fact, Strength.Stop, false, false, "run-not-started", "the run has been started"),
        new("run-over", GateKind.Fact, Strength.Ask, false, false, "run-going-on", "the run is over"),
        new("run-loaded", GateKind.Fact, Strength.Ask, false, false, "run-empty", "a cage was loaded for the run, where the shop has entered cages"),
        new("programme-fits", GateKind.Fact, Strength.Stop, false, true, "programme-unfit", "the machine has every jar of the programme"),
        new("machine-free", GateKind.Fact, Strength.Ask, false, false, "machine-busy", "no other run is going on in the machine"),
        new("places", GateKind.Fact, Strength.Stop, false, false, "machine-full", "there are no more cages than places"),
        new("own-run", GateKind.Fact, Strength.Stop, true, false, "own-run", "rusty parts share the run with nothing"),
        new("open-cage", GateKind.Fact, Strength.Stop, false, true, "open-cage", "a cage without a lid shares the run with no other watch"),
        new("two-jobs", GateKind.Fact, Strength.Stop, true, false, "two-jobs-in-run", "watches may share a run, or only one is in it"),
        new("same-calibre", GateKind.Fact, Strength.Stop, true, false, "same-calibre", "no other watch in the run has the same calibre"),
        new("calibre-unknown", GateKind.Fact, Strength.Ask, false, false, "calibre-unknown", "the calibres of all watches in the run are written down, or only one is in it"),
        new("fluid-fresh", GateKind.Fact, Strength.Ask, false, false, "fluid-used-up", "what stands in the jar has runs and days left"),
        new("quote-valid", GateKind.Fact, Strength.Stop, false, true, "quote-expired", "the quote is still valid on the day of the answer"),
        new("promise-given", GateKind.Job, Strength.Stop, false, true, "no-promise-yet", "a date was promised"),
        new("trial-day-told", GateKind.Job, Strength.Stop, false, true, "trial-day-told", "the day of the trial was not told with another figure"),
        new("insured-enough", GateKind.Job, Strength.Ask, false, false, "insured-for-less", "a parcel is insured, within what its carrier insures, for what its watches were declared at"),
        new("promise-moved-often", GateKind.Job, Strength.Ask, false, false, "promise-moved-often", "the shop has moved the promise fewer times than its rules allow"),
    ];

    private static readonly FrozenDictionary<string, GateFacts> ByFamily = Rows.ToFrozenDictionary(row => row.Family, StringComparer.Ordinal);

    public static IEnumerable<GateFacts> All => Rows;

    /// <summary>The family of a gate's full name: <c>needs/casing</c> belongs to <c>needs</c>.</summary>
    public static string FamilyOf(string gate) => gate.Split('/', 2)[0];

    public static GateFacts Of(string gate) => ByFamily[FamilyOf(gate)];

    public static bool Knows(string gate) => ByFamily.ContainsKey(FamilyOf(gate));

    /// <summary>The strength that is in force. A word about the whole family is not meant for the gate that the route or the case marks; its own name is.</summary>
    public static Strength StrengthOf(string gate, ShopRules rules, Strength? byDefault = null)
    {
        var facts = Of(gate);
        return facts.Fixed ? byDefault ?? facts.Default
            : rules.GateStrengths.TryGetValue(gate, out var own) || (byDefault is null && rules.GateStrengths.TryGetValue(facts.Family, out own)) ? own
            : byDefault ?? facts.Default;
    }

    /// <summary>An objection of a gate with the strength that is in force.</summary>
    /// <param name="byDefault">The strength where the route or the case at hand knows better than the family.</param>
    public static Objection Objects(string gate, ShopRules rules, Phrase line, Phrase helps, Strength? byDefault = null, params ReadOnlySpan<(string Name, string Value)> names)
    {
        var facts = Of(gate);
        var strength = StrengthOf(gate, rules, byDefault);
        var named = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        foreach (var (name, value) in names)
        {
            named[name] = value;
        }

        return new Objection
        {
            Gate = gate,
            Kind = facts.Kind,
            Strength = strength,
            Waivable = facts.Waivable,
            Code = facts.Code,
            Line = line,
            Helps = helps,
            Names = named.ToImmutable(),
        };
    }
}
