using System.Collections.Immutable;
using System.Globalization;
using NodaTime.Text;
using Workshop.Core.Casing;
using Workshop.Core.Corrections;
using Workshop.Core.FinalControls;
using Workshop.Core.Gates;
using Workshop.Core.Hazards;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Pieces;
using Workshop.Core.Reports;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Timekeeping;
using Workshop.Core.Waivers;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>Puts a decision into one line for the person at the bench.</summary>
public static class Saying
{
    private static readonly ZonedDateTimePattern DayAndHour = ZonedDateTimePattern.CreateWithInvariantCulture("ddd d MMM HH:mm", null);

    public static Say Of(Job before, Decision decision, Incoming incoming, ShopRules rules)
    {
        var cautions = CautionsOf(decision.Job, incoming.Event);
        if (decision.Outcome == Outcome.Refused)
        {
            return Refused(decision.Against, cautions);
        }

        if (decision.Outcome == Outcome.Noted)
        {
            var why = decision.Against.IsEmpty ? "later work would lose its ground" : decision.Against[0].Line;
            return new Say(Signal.Ask, "Kept for review by a manager", why) { Cautions = cautions };
        }

        var (signal, line) = decision.Flags.Contains(EntryFlag.AlreadySo) ? (Signal.Ok, "It was so already; nothing changed") : Accepted(before, decision.Job, incoming, rules);
        return new Say(signal, line, MoreOf(before, decision, line)) { Cautions = cautions };
    }

    private static Say Refused(ImmutableArray<Objection> against, ImmutableArray<Caution> cautions)
    {
        var first = against[0];
        var ask = against.All(one => one.Strength == Strength.Ask);
        return new Say(ask ? Signal.Ask : Signal.Stop, first.Line, $"Could help: {first.Helps}") { Cautions = cautions };
    }

    private static (Signal Signal, string Line) Accepted(Job before, Job job, Incoming incoming, ShopRules rules) => incoming.Event switch
    {
        StageStarted started => (Signal.Ok, $"{Capital(started.Stage)} started"),
        StageFinished finished => job.Standings.Of(finished.Stage).State == StageState.GroundLost
            ? (Signal.Ask, $"Kept, but {Spoken(finished.Stage)} has lost its ground")
            : (Signal.Ok, $"{Capital(finished.Stage)} done{NextOf(job)}"),
        StageSentBack back => (Signal.Ok, Again($"Back to {Spoken(back.To)}", before, job)),
        HoldPlaced placed => (Signal.Ok, $"Held: {Word.Of(placed.Hold)}"),
        HoldLifted lifted => (Signal.Ok, $"No longer held: {Word.Of(lifted.Hold)}"),
        PieceEvent moved when before.Pieces.Meant(moved).IsEmpty => (Signal.Ask, "Kept, but which piece? The job has none or several"),
        PieceGiven given => (Signal.Ok, $"{PiecesOf(before, given)} given to {given.To}"),
        PieceTaken taken => (Signal.Ok, $"{PiecesOf(before, taken)} taken"),
        PiecePut put => (Signal.Ok, $"{PiecesOf(before, put)} put at {put.To}"),
        CaseClosed => (Signal.Ok, job.Standings.Stands(Stage.Casing) ? $"Closed, numbers agree{NextOf(job)}" : "Closed, numbers agree"),
        CaseOpened => (Signal.Ok, Again("Opened", before, job)),
        SealSeen seal => (Signal.Ok, Again($"Seal {Word.Of(seal.State).Replace('-', ' ')}", before, job)),
        IndexTouched => (Signal.Ok, Again("Index touched", before, job)),
        RateSetRecorded => (Signal.Ok, job.Timekeeping.RateSets.LastOrDefault(set => set.Id == incoming.Id) is { } set ? Measured(set) : "Kept"),
        WaterTestRecorded test => test.Passed ? (Signal.Ok, $"Tight{NextOf(job)}") : (Signal.Ask, "It leaks: gaskets, then test again"),
        WearCheckStarted => (Signal.Ok, DueLine(job, rules)),
        WearCheckPaused => (Signal.Ok, "Paused; wear stands still"),
        WearCheckResumed => (Signal.Ok, DueLine(job, rules)),
        WearCheckRead => job.WearChecks.ReadingOf(incoming.Id) is { } reading ? Read(reading) : (Signal.Ok, "Kept"),
        FinalControlPassed => (Signal.Ok, job.Standings.IsReady ? "Passed: ready" : $"Passed{NextOf(job)}"),
        FinalControlRefused refused => (Signal.Ok, Again($"Back to {Spoken(refused.To)}", before, job)),
        WaiverGiven waiver => (Signal.Ok, $"Waived once: {waiver.Gate}"),
        DamageSeen damage => (Signal.Ok, damage.AsReceived == true ? "Damage noted, as received" : "Damage noted: a manager decides"),
        CorrectionMade => (Signal.Ok, Again("Taken back", before, job)),
        ReportSettled settled => (Signal.Ok, settled.As == SettledAs.Happened ? "Settled: it happened, and counts" : "Settled: it did not happen"),
        NoteWritten => (Signal.Ok, "Noted"),
        _ => (Signal.Ok, "Kept"),
    };

    private static string Measured(RateSetSummary set) => string.Create(
        CultureInfo.InvariantCulture,
        $"Mean {Signed(set.MeanPerDaySeconds)}, spread {set.SpreadPerDaySeconds:0.0} s/d, {set.Positions} position{(set.Positions == 1 ? "" : "s")}");

    private static (Signal Signal, string Line) Read(WearReading reading)
    {
        var rate = reading is { RatePerDaySeconds: { } value, PlusMinusSeconds: { } plusMinus }
            ? string.Create(CultureInfo.InvariantCulture, $"{Signed(value)} ± {WearArithmetic.PrintedPlusMinus(plusMinus):0.####} s/d")
            : "no rate yet";
        return reading.Verdict switch
        {
            WearVerdict.Pass => (Signal.Ok, $"Passed: {rate}"),
            WearVerdict.Outside => (Signal.Ask, $"Outside: {rate}. Regulate"),
            WearVerdict.OutsideFar => (Signal.Ask, $"Far outside: {rate}. Look for the fault"),
            WearVerdict.Stopped => (Signal.Ask, "It stopped: back to diagnosis"),
            WearVerdict.Inconclusive => (Signal.Ask, $"Too close to say: {rate}. Leave it on"),
            WearVerdict.Interim => (Signal.Ok, string.Create(CultureInfo.InvariantCulture, $"Interim after {reading.Wear.TotalHours:0.0} h: {rate}")),
            WearVerdict.Void => (Signal.Ask, "The check is void"),
        };
    }

    private static string DueLine(Job job, ShopRules rules) =>
        job.WearChecks.Running?.Due is { } due ? $"Read it from {DayAndHour.Format(due.InZone(rules.Calendar.Zone))} on" : "Started";

    /// <summary>What happened, and the stages that stood before and do not any more: their names, or their number where a line cannot hold them.</summary>
    private static string Again(string happened, Job before, Job after)
    {
        var again = StagesAgain(before, after);
        var named = $"{happened}. Again: {string.Join(", ", again)}";
        return again.Length == 0 ? happened
            : named.Length <= Say.LineAtMost ? named
            : $"{happened}. {again.Length} stages again";
    }

    private static string[] StagesAgain(Job before, Job after) =>
        [.. before.Standings.Required.Select(one => one.Stage)
            .Where(stage => before.Standings.Of(stage).State is StageState.Done or StageState.Running && after.Standings.Of(stage).State is StageState.Void or StageState.GroundLost)
            .Where(stage => StageTable.Of(stage).EndedBy != EndedBy.Reached)
            .Select(Spoken)];

    private static string? MoreOf(Job before, Decision decision, string line)
    {
        var job = decision.Job;
        var again = StagesAgain(before, job);
        string?[] more =
        [
            again.Length > 0 && !line.Contains(string.Join(", ", again)) ? $"To be done again: {string.Join(", ", again)}." : null,
            decision.Flags.Contains(EntryFlag.OpeningImplied) ? "The case counted as closed; its opening is taken as told." : null,
            before.Promise.On is { } was && job.Promise.On is { } on && was != on ? $"The promised date moved from {was:yyyy-MM-dd} to {on:yyyy-MM-dd}." : null,
            job.Standings.GroundLost.Any() && !before.Standings.GroundLost.SequenceEqual(job.Standings.GroundLost) ? "A manager is told: results have lost their ground." : null,
            decision.Flags.Contains(EntryFlag.ClockSuspect) ? "The device's clock cannot be right; the time of receipt counts." : null,
        ];
        var said = string.Join(' ', more.Where(one => one is not null));
        return said.Length == 0 ? null : said;
    }

    /// <summary>The reminders of the watch itself, and those of the work an event begins.</summary>
    public static ImmutableArray<Caution> CautionsOf(Job job, WorkshopEvent? one = null)
    {
        Stage? stage = one switch
        {
            StageStarted started => started.Stage,
            WaterTestRecorded => Stage.WaterTest,
            _ => null,
        };
        var ids = job.Intake.Hazards.Concat(stage is { } at ? Hazard.AtStage(at) : []).Distinct();
        return [.. ids.Where(Hazard.All.ContainsKey).Select(id => Hazard.All[id])];
    }

    private static string NextOf(Job job) => job.Standings.Current is { } next && !job.Standings.Stands(next) ? $". Next: {Spoken(next)}" : "";

    private static string PiecesOf(Job job, PieceEvent moved) => job.Pieces.Meant(moved) switch
    {
        [var one] => Capital(one.Id),
        var several => $"{several.Length} pieces",
    };

    private static string Signed(decimal value) => value.ToString("+0.0;-0.0;0.0", CultureInfo.InvariantCulture);

    private static string Spoken(Stage stage) => Word.Of(stage).Replace('-', ' ');

    private static string Capital(Stage stage) => Capital(Spoken(stage));

    private static string Capital(string word) => char.ToUpperInvariant(word[0]) + word[1..].Replace('-', ' ');
}
