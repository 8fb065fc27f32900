using System.Collections.Immutable;
using NodaTime.Text;
using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.Gates;
using Workshop.Core.Hazards;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Pieces;
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

        var (signal, line) = decision.Flags.Contains(EntryFlag.AlreadySo) ? (Signal.Ok, "It was so already; nothing changed") : Accepted(before, decision.Job, incoming.Event, rules);
        return new Say(signal, line, MoreOf(before, decision)) { Cautions = cautions };
    }

    private static Say Refused(ImmutableArray<Objection> against, ImmutableArray<Caution> cautions)
    {
        var first = against[0];
        var ask = against.All(one => one.Strength == Strength.Ask);
        return new Say(ask ? Signal.Ask : Signal.Stop, first.Line, $"Could help: {first.Helps}") { Cautions = cautions };
    }

    private static (Signal Signal, string Line) Accepted(Job before, Job job, WorkshopEvent one, ShopRules rules) => one switch
    {
        StageStarted started => (Signal.Ok, $"{Capital(started.Stage)} started"),
        StageFinished finished => job.Standings.Of(finished.Stage).State == StageState.GroundLost
            ? (Signal.Ask, $"Kept, but {Spoken(finished.Stage)} has lost its ground")
            : (Signal.Ok, $"{Capital(finished.Stage)} done{NextOf(job)}"),
        StageSentBack back => (Signal.Ok, $"Back to {Spoken(back.To)}{AgainOf(before, job)}"),
        HoldPlaced placed => (Signal.Ok, $"Held: {Shown(placed.Hold)}"),
        HoldLifted lifted => (Signal.Ok, $"No longer held: {Shown(lifted.Hold)}"),
        PieceGiven given => (Signal.Ok, $"{PiecesOf(job, given)} given to {given.To}"),
        PieceTaken taken => (Signal.Ok, $"{PiecesOf(job, taken)} taken"),
        PiecePut put => (Signal.Ok, $"{PiecesOf(job, put)} put at {put.To}"),
        CaseClosed => (Signal.Ok, job.Standings.Stands(Stage.Casing) ? $"Closed, numbers agree{NextOf(job)}" : "Closed, numbers agree"),
        CaseOpened => (Signal.Ok, $"Opened{AgainOf(before, job)}"),
        SealSeen seal => (Signal.Ok, $"Seal {Word.Of(seal.State).Replace('-', ' ')}{AgainOf(before, job)}"),
        IndexTouched => (Signal.Ok, $"Index touched{AgainOf(before, job)}"),
        RateSetRecorded when job.Timekeeping.RateSets is [.., var set] => (Signal.Ok, $"Mean {Signed(set.MeanPerDaySeconds)}, spread {set.SpreadPerDaySeconds:0.0} s/d, {set.Positions} positions"),
        WaterTestRecorded test => test.Passed ? (Signal.Ok, $"Tight{NextOf(job)}") : (Signal.Ask, "It leaks: gaskets, then test again"),
        WearCheckStarted => (Signal.Ok, DueLine(job, rules)),
        WearCheckPaused => (Signal.Ok, "Paused; wear stands still"),
        WearCheckResumed => (Signal.Ok, DueLine(job, rules)),
        WearCheckRead => Read(job),
        FinalControlPassed => (Signal.Ok, job.Standings.IsReady ? "Passed: ready" : $"Passed{NextOf(job)}"),
        FinalControlRefused refused => (Signal.Ok, $"Back to {Spoken(refused.To)}{AgainOf(before, job)}"),
        WaiverGiven waiver => (Signal.Ok, $"Waived once: {waiver.Gate}"),
        DamageSeen damage => (Signal.Ok, damage.AsReceived == true ? "Damage noted, as received" : "Damage noted: a manager decides"),
        NoteWritten => (Signal.Ok, "Noted"),
        _ => (Signal.Ok, "Kept"),
    };

    private static (Signal Signal, string Line) Read(Job job)
    {
        if (job.WearChecks.Checks is not [.., { Readings: [.., var reading] }])
        {
            return (Signal.Ok, "Kept");
        }

        var rate = reading is { RatePerDaySeconds: { } value, PlusMinusSeconds: { } plusMinus }
            ? $"{Signed(value)} ± {WearArithmetic.PrintedPlusMinus(plusMinus):0.#} s/d"
            : "";
        return reading.Verdict switch
        {
            WearVerdict.Pass => (Signal.Ok, $"Passed: {rate}"),
            WearVerdict.Outside => (Signal.Ask, $"Outside: {rate}. Regulate"),
            WearVerdict.OutsideFar => (Signal.Ask, $"Far outside: {rate}. Look for the fault"),
            WearVerdict.Stopped => (Signal.Ask, "It stopped: back to diagnosis"),
            WearVerdict.Inconclusive => (Signal.Ask, $"Too close to say: {rate}. Leave it on"),
            WearVerdict.Interim => (Signal.Ok, $"Interim after {reading.Wear.TotalHours:0.0} h: {rate}"),
            WearVerdict.Void => (Signal.Ask, "The check is void"),
        };
    }

    private static string DueLine(Job job, ShopRules rules) =>
        job.WearChecks.Running?.Due is { } due ? $"Read it from {DayAndHour.Format(due.InZone(rules.Calendar.Zone))} on" : "Started";

    /// <summary>The stages that stood before and do not any more.</summary>
    private static string AgainOf(Job before, Job after)
    {
        var again = before.Standings.Required.Select(one => one.Stage)
            .Where(stage => before.Standings.Of(stage).State is StageState.Done or StageState.Running && !after.Standings.Stands(stage) && after.Standings.Of(stage).State == StageState.Void)
            .Where(stage => StageTable.Of(stage).EndedBy != EndedBy.Reached)
            .Select(Spoken).ToArray();
        return again.Length == 0 ? "" : $". Again: {string.Join(", ", again)}";
    }

    private static string? MoreOf(Job before, Decision decision)
    {
        var job = decision.Job;
        string?[] more =
        [
            decision.Flags.Contains(EntryFlag.OpeningImplied) ? "The case counted as closed; its opening is taken as told." : null,
            before.Promise.On is { } was && job.Promise.On is { } on && was != on ? $"The promised date moved from {was:yyyy-MM-dd} to {on:yyyy-MM-dd}." : null,
            job.Standings.GroundLost.Any() && !before.Standings.GroundLost.SequenceEqual(job.Standings.GroundLost) ? "A manager is told: results have lost their ground." : null,
            decision.Flags.Contains(EntryFlag.ClockSuspect) ? "The device's clock cannot be right; the time of receipt counts." : null,
        ];
        var said = string.Join(' ', more.Where(one => one is not null));
        return said.Length == 0 ? null : said;
    }

    private static ImmutableArray<Caution> CautionsOf(Job job, WorkshopEvent one)
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

    private static string PiecesOf(Job job, PieceEvent moved) => job.Pieces.Meant(moved.Piece, moved.Kind) switch
    {
        [var one] => Capital(one.Id),
        { Length: > 1 } several => $"{several.Length} pieces",
        _ => "Whole watch",
    };

    private static string Shown(HoldReason reason) => Word.Of(reason == HoldReason.Legal ? HoldReason.Query : reason);

    private static string Signed(decimal value) => value.ToString("+0.0;-0.0;0.0", System.Globalization.CultureInfo.InvariantCulture);

    private static string Spoken(Stage stage) => Word.Of(stage).Replace('-', ' ');

    private static string Capital(Stage stage) => Capital(Spoken(stage));

    private static string Capital(string word) => char.ToUpperInvariant(word[0]) + word[1..].Replace('-', ' ');
}
