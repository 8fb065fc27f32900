using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.Groups;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Money;
using Workshop.Core.Parts;
using Workshop.Core.People;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;
using Workshop.Core.Reports;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Timekeeping;
using Workshop.Core.Waivers;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>The gates that read the facts of the turn; asked once, when the event comes.</summary>
public static class FactGates
{
    public const string JobLabel = "job-label";
    public const string CaseSerial = "case-serial";
    public const string MovementNumber = "movement-number";

    public static IEnumerable<Objection> Ask(Job job, Asking asking, Incoming incoming, Facts facts) => incoming.Event switch
    {
        FinalControlPassed => PersonNamed(asking).Concat(Proven(facts.Proof, asking.Rules)),
        StageFinished { Stage: Stage.Settlement } or PaymentRecorded or PaymentCorrected or AccountChanged => Proven(facts.Proof, asking.Rules),
        StageFinished { Stage: Stage.Rebuild } or FinalControlRefused or WaiverGiven or ToleranceExcepted or WearCheckConfirmed or ReportSettled => PersonNamed(asking),
        CaseClosed closed => ThreeNumbers(job, asking, closed),
        PartReserved reserved => PartGates.Reserve(asking, reserved, facts),
        PartFitted fitted => PartGates.Fit(job, asking, fitted, facts),
        LabelAttached attached => LabelGates.Free(job, asking, attached.Label, attached.Piece, facts.NamesOfLabel),
        LabelReplaced replaced => LabelGates.Free(job, asking, replaced.By, job.Labels.PieceOf(replaced.Label), facts.NamesOfLabel),
        PolishConfirmed => PersonNamed(asking),
        WearCheckStarted { Kind: WearCheckKind.Static } => WearGates.StaticStartUseful(asking),
        WearCheckStarted started => WearGates.WinderPlaceFree(job, asking, started, facts.WornAtWinderPlace),
        CageLoaded loaded when facts.Cage is not null && !job.Cages.Is(loaded) => CleaningGates.Load(loaded, asking, facts.Cage),
        CageEmptied emptied when facts.Cage is not null => CleaningGates.Empty(emptied, job.Label, asking, facts.Cage, job.Cages.Open(emptied.Cage)),
        JobTakenIn taken => FixedDate(taken.FixedDate, facts.Reachable, asking.Rules),
        StageStarted { Stage: Stage.WaterTest } when facts.Watch is { } watch && !JobGates.AlreadySo(job, incoming.Event, asking.Person) => TestGates.NeverTested(asking, watch.Water),
        QuoteAnswered answered => QuoteValid(job, asking, answered, facts),
        _ => [],
    };

    /// <summary>Which of the three numbers read at casing do not belong to this job; one not known yet is set by its first reading.</summary>
    public static IEnumerable<string> Differing(Job job, CaseClosed closed)
    {
        // Any label of the watch will do that is still on it.
        if (!Label.TryRead(closed.JobLabel, out var read) || (read != job.Label && !job.Labels.Knows(read.Value)) || job.Labels.ReplacementOf(read.Value) is not null)
        {
            yield return JobLabel;
        }

        if (!WatchNumber.Agree(job.Case.CaseSerial, closed.CaseSerial))
        {
            yield return CaseSerial;
        }

        if (!WatchNumber.Agree(job.Case.MovementNumber, closed.MovementNumber))
        {
            yield return MovementNumber;
        }
    }

    /// <summary>What stands against taking a watch in for a day that can hardly be kept: the time to say no is now.</summary>
    /// <param name="reachable">Null where nobody counted.</param>
    public static IEnumerable<Objection> FixedDate(LocalDate? needed, ReachableDate? reachable, ShopRules rules)
    {
        if (needed is { } day && reachable is { } by && by.On > day)
        {
            yield return GateTable.Objects(
                "fixed-date", rules, Phrase.Of("Sure by {0} only; needed by {1}", by.On, day), Phrase.Of("say so to the customer now; despite goes on"),
                names: [("neededBy", $"{day:uuuu-MM-dd}"), ("reachableBy", $"{by.On:uuuu-MM-dd}"), ("words", by.Words.ToString())]);
        }
    }

    private static IEnumerable<Objection> PersonNamed(Asking asking)
    {
        if (string.IsNullOrWhiteSpace(asking.Person))
        {
            yield return GateTable.Objects("person-named", asking.Rules, Phrase.Of("Who is it? Scan your badge"), Phrase.Of("scan a badge, then send it again"));
        }
    }

    /// <summary>What stands against somebody's word where they had to prove who they are.</summary>
    public static IEnumerable<Objection> Proven(Proof proof, ShopRules rules) => proof switch
    {
        Proof.Missing => [GateTable.Objects("proof", rules, Phrase.Of("Who are you? Type your number"), Phrase.Of("type your number, or use a manager's device"))],
        Proof.Wrong => [GateTable.Objects("proof", rules, Phrase.Of("That is not your number"), Phrase.Of("type it again; a manager can give you a new one"))],
        Proof.Locked => [GateTable.Objects("proof-locked", rules, Phrase.Of("Wrong too often; wait a quarter of an hour"), Phrase.Of("a manager's device, or waiting"))],
        _ => [],
    };

    private static IEnumerable<Objection> ThreeNumbers(Job job, Asking asking, CaseClosed closed)
    {
        var differing = Differing(job, closed).ToArray();
        if (differing.Length > 0)
        {
            yield return GateTable.Objects(
                "three-numbers", asking.Rules, Phrase.Of("Numbers disagree. Stop: both jobs are held"), Phrase.Of("a manager, with both watches on the table"),
                names: [("differing", string.Join(", ", differing))]);
        }
    }

    private static IEnumerable<Objection> QuoteValid(Job job, Asking asking, QuoteAnswered answered, Facts facts)
    {
        var asked = job.Quotes.Versions.FirstOrDefault(one => one.Version == answered.Version);
        if (asked is not null && answered.Accepted && facts.Rules.Calendar.DateOf(asking.At) > asked.ValidThrough)
        {
            yield return GateTable.Objects("quote-valid", asking.Rules, Phrase.Of("The quote was good through {0}", asked.ValidThrough), Phrase.Of("send a new version"), names: [("validThrough", $"{asked.ValidThrough:yyyy-MM-dd}")]);
        }
    }
}
