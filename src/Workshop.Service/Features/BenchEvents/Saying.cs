using System.Collections.Immutable;
using Microsoft.AspNetCore.Mvc;
using Workshop.Core.Casing;
using Workshop.Core.Corrections;
using Workshop.Core.FinalControls;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Gates;
using Workshop.Core.Groups;
using Workshop.Core.Hazards;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Notes;
using Workshop.Core.Parts;
using Workshop.Core.Pieces;
using Workshop.Core.Reports;
using Workshop.Core.ReserveTests;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Stops;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Trials;
using Workshop.Core.Waivers;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>Puts a decision into one line for the person at the bench.</summary>
public static class Saying
{
    public static Say Of(Job before, Decision decision, Incoming incoming, ShopRules rules, Language language)
    {
        var cautions = CautionsOf(decision.Job, language, incoming.Event);
        if (decision.Outcome == Outcome.Refused)
        {
            return Refused(decision.Against, language, cautions);
        }

        if (decision.Outcome == Outcome.Noted)
        {
            var why = decision.Against.IsEmpty ? Phrase.Of("later work would lose its ground").In(language) : decision.Against[0].Line.Line(language);
            return new Say(Signal.Ask, Phrase.Of("Kept for review by a manager").In(language), why) { Cautions = cautions };
        }

        var (signal, said) = decision.Flags.Contains(EntryFlag.AlreadySo)
            ? (Signal.Ok, Phrase.Of("It was so already; nothing changed"))
            : Accepted(before, decision.Job, incoming, rules, language);
        var line = said.In(language);
        return new Say(signal, line, MoreOf(before, decision, incoming, rules, line, language)) { Cautions = cautions };
    }

    /// <summary>What is wrong in the event itself, or with who says it.</summary>
    /// <param name="about">The job it speaks of; its cautions go with every word about the watch, also with one about a slip of the pen.</param>
    public static Say Of(ProblemDetails problem, Language language, Job? about)
    {
        var cautions = about is null ? [] : CautionsOf(about, language);
        if (language == Language.English)
        {
            return new Say(Signal.Stop, problem.Title!, problem.Detail) { Cautions = cautions };
        }

        // The detail is written for whoever made the device; people are told what they can do, or which field it is.
        var kind = ProblemCatalogue.Find((string)problem.Extensions["code"]!)!;
        var more = problem.Extensions.TryGetValue("errors", out var errors) && errors is FieldError[] and [var first, ..]
            ? first.Said is { } said ? $"{first.Pointer}: {said.In(language)}" : Phrase.Of("{0} is not as it should be; errors[] says more.", first.Pointer).In(language)
            : Phrase.OfTable(kind.Remedy).In(language);
        return new Say(Signal.Stop, Phrase.OfTable(kind.Title).In(language), more) { Cautions = cautions };
    }

    internal static Say Refused(ImmutableArray<Objection> against, Language language, ImmutableArray<Caution> cautions)
    {
        var first = against[0];
        var ask = against.All(one => one.Strength == Strength.Ask);
        return new Say(ask ? Signal.Ask : Signal.Stop, first.Line.Line(language), Phrase.Of("Could help: {0}", first.Helps).In(language)) { Cautions = cautions };
    }

    private static (Signal Signal, Phrase Line) Accepted(Job before, Job job, Incoming incoming, ShopRules rules, Language language) => incoming.Event switch
    {
        StageStarted started => (Signal.Ok, Phrase.Of("{0} started", started.Stage)),
        StageFinished finished => job.Standings.Of(finished.Stage).State == StageState.GroundLost
            ? (Signal.Ask, Phrase.Of("Kept, but {0} has lost its ground", finished.Stage))
            : (Signal.Ok, Next(Phrase.Of("{0} done", finished.Stage), job)),
        StageSentBack back => (Signal.Ok, Again(Phrase.Of("Back to {0}", back.To), before, job, language)),
        HoldPlaced placed => (Signal.Ok, Phrase.Of("Held: {0}", placed.Hold)),
        HoldLifted lifted => (Signal.Ok, Phrase.Of("No longer held: {0}", lifted.Hold)),
        PieceEvent moved when before.Pieces.Meant(moved).IsEmpty => (Signal.Ask, Phrase.Of("Kept, but which piece? The job has none or several")),
        PieceTaken or PiecePut when before.Pieces.Differing(incoming.Event) is not null => (Signal.Ask, Phrase.Of("Another number than went there: a manager is told")),
        PieceGiven given => (Signal.Ok, Phrase.Of("{0} given to {1}", PiecesOf(before, given), given.To ?? "")),
        PieceTaken taken => (Signal.Ok, Phrase.Of("{0} taken", PiecesOf(before, taken))),
        PiecePut put => (Signal.Ok, Phrase.Of("{0} put at {1}", PiecesOf(before, put), put.To ?? "")),
        PartReserved reserved => (Signal.Ok, Phrase.Of("{0} set aside", reserved.Part)),
        PartReceived { Fits: false } wrong => (Signal.Ask, Phrase.Of("{0} is the wrong one; still awaited", wrong.Part)),
        PartReceived received => (Signal.Ok, Phrase.Of("{0} came", received.Part)),
        PartChecked { Fits: true } right => (Signal.Ok, Phrase.Of("{0} fits", right.Part)),
        PartChecked wrong => (Signal.Ask, Phrase.Of("{0} does not fit; awaited anew", wrong.Part)),
        PartFitted fitted => (Signal.Ok, Phrase.Of("{0} fitted", fitted.Part)),
        PartReleased released => (Signal.Ok, Phrase.Of("{0} is free again", released.Part)),
        LabelAttached { Piece: { } piece } => (Signal.Ok, Phrase.Of("{0} has a label of its own", new Term("piece", piece))),
        LabelAttached attached => (Signal.Ok, Phrase.Of("{0} is this watch too", attached.Label.ToString())),
        LabelReplaced replaced => (Signal.Ok, Phrase.Of("{0} it is now; {1} is void", replaced.By.ToString(), replaced.Label.ToString())),
        GroupDeclared declared => job.Groups.Find(declared.Group) is { NeverWashed: true, State: GroupState.NotWashed }
            ? (Signal.Ok, Phrase.Of("{0} is never washed: closed box", new Term("group", declared.Group)))
            : (Signal.Ok, Left(Phrase.Of("{0} is written down", new Term("group", declared.Group)), job.Groups.Undeclared.Count())),
        GroupHandCleaned or GroupNotWashed or GroupReplaced => (Signal.Ok, Left(Phrase.Of("{0}: written down", new Term("group", ((GroupEvent)incoming.Event).Group)), job.Groups.Open.Count())),
        GroupReopened reopened => (Signal.Ok, Phrase.Of("{0} is to be cleaned again", new Term("group", reopened.Group))),
        GroupInspected inspected => (Signal.Ok, Phrase.Of("{0} looked at", new Term("group", inspected.Group))),
        CountRecorded count => Counted(job, count.Group, incoming),
        PartLost lost => (Signal.Ask, Phrase.Of("Lost: {0}. Held; search for it", lost.Part)),
        PartFound found => (Signal.Ok, Phrase.Of("Found: {0}", found.Part)),
        CageLoaded loaded when DifferenceOf(job, incoming) is { } => Counted(job, loaded.Group, incoming),
        CageEmptied when DifferenceOf(job, incoming) is { } difference => Counted(job, difference.Group, incoming),
        CageLoaded loaded => (Signal.Ok, Phrase.Of("{0} is in {1}", new Term("group", loaded.Group), loaded.Cage)),
        CageEmptied emptied => (Signal.Ok, Phrase.Of("{0} is empty and free", emptied.Cage)),
        CaseClosed => (Signal.Ok, job.Standings.Stands(Stage.Casing) ? Next(Phrase.Of("Closed, numbers agree"), job) : Phrase.Of("Closed, numbers agree")),
        CaseOpened => (Signal.Ok, Again(Phrase.Of("Opened"), before, job, language)),
        SealSeen seal => (Signal.Ok, Again(Phrase.Of("Seal {0}", seal.State), before, job, language)),
        TakedownLetDown => (Signal.Ok, Phrase.Of("Let down")),
        TakedownStep { Part: { } part } step => (Signal.Ok, Phrase.Of("Step {0}: {1}", new Figure(step.Step, "0.####"), new Term("part", part))),
        TakedownStep step => (Signal.Ok, Phrase.Of("Step {0} kept", new Figure(step.Step, "0.####"))),
        FindingRecorded found => (Signal.Ok, Phrase.Of("Finding kept: {0}", found.Severity)),
        InspectionRecorded seen => (Signal.Ok, Phrase.Of("{0}: {1}", seen.System, seen.Result)),
        PolishConfirmed => (Signal.Ok, Phrase.Of("Polish confirmed")),
        IndexTouched => (Signal.Ok, Again(Phrase.Of("Index touched"), before, job, language)),
        RateSetRecorded when before.WearChecks.RunningStatic is not null && job.WearChecks.RunningStatic is null => (Signal.Ask, Phrase.Of("Wound in between: the static check is void")),
        RateSetRecorded => job.Timekeeping.Find(incoming.Id) is { } set ? RateSaying.Of(set, job, rules) : (Signal.Ok, Phrase.Of("Kept")),
        LiftAngleCorrected corrected => (Signal.Ok, Phrase.Of("Recomputed for a lift angle of {0}°", new Figure(corrected.LiftAngleDegrees, "0.#"))),
        ToleranceExcepted excepted => (Signal.Ok, Phrase.Of("Signed: {0}", excepted.Criterion)),
        TrialDayRecorded told => DayTold(job, told),
        WaterTestRecorded when TestSaying.Against(job, incoming) is { } against => against,
        WaterTestRecorded { EmptyCase: true, Passed: true } => (Signal.Ok, Phrase.Of("The empty case is tight")),
        WaterTestRecorded test => test.Passed ? (Signal.Ok, Next(Phrase.Of("Tight"), job)) : (Signal.Ask, Phrase.Of("It leaks: gaskets, then test again")),
        WearCheckStarted { Kind: WearCheckKind.Static } when job.WearChecks.RunningStatic is { } still => (Signal.Ok, WearSaying.Window(still, rules)),
        WearCheckStarted => (Signal.Ok, DueLine(job, rules)),
        WearCheckPaused { Kind: WearCheckKind.Static } => (Signal.Ask, Phrase.Of("The check is void")),
        WearCheckPaused => (Signal.Ok, Phrase.Of("Paused; wear stands still")),
        WearCheckResumed => (Signal.Ok, DueLine(job, rules)),
        WearCheckConfirmed => job.WearChecks.Running is null && job.WearChecks.LastJudged?.Readings is [.., var judged] ? WearSaying.Read(judged) : (Signal.Ok, DueLine(job, rules)),
        WearCheckRead { Stopped: true } when TestSaying.Stopped(job, incoming, rules) is { } stopped => stopped,
        WearCheckRead { Kind: WearCheckKind.Static } => job.WearChecks.StaticReadingOf(incoming.Id) is { } still ? WearSaying.Read(still, job, rules) : (Signal.Ok, Phrase.Of("Kept")),
        WearCheckRead => job.WearChecks.ReadingOf(incoming.Id) is { } reading ? WearSaying.Read(reading) : (Signal.Ok, Phrase.Of("Kept")),
        StopExplained explained => (Signal.Ok, Phrase.Of("Cause kept: {0}", explained.Cause)),
        FunctionChecked told => TestSaying.Of(job, told, incoming),
        ReserveTestStarted => TestSaying.Started(job, rules),
        ReserveTestRead => TestSaying.Read(job, incoming, rules),
        FinalControlPassed => (Signal.Ok, job.Standings.IsReady ? Phrase.Of("Passed: ready") : Next(Phrase.Of("Passed"), job)),
        FinalControlRefused refused => (Signal.Ok, Again(Phrase.Of("Back to {0}", refused.To), before, job, language)),
        WaiverGiven waiver => (Signal.Ok, Phrase.Of("Waived once: {0}", waiver.Gate)),
        DamageSeen damage => (Signal.Ok, damage.AsReceived == true ? Phrase.Of("Damage noted, as received") : Phrase.Of("Damage noted: a manager decides")),
        CorrectionMade => (Signal.Ok, Again(Phrase.Of("Taken back"), before, job, language)),
        ReportSettled settled => (Signal.Ok, settled.As == SettledAs.Happened ? Phrase.Of("Settled: it happened, and counts") : Phrase.Of("Settled: it did not happen")),
        NoteWritten => (Signal.Ok, Phrase.Of("Noted")),
        _ => (Signal.Ok, Phrase.Of("Kept")),
    };

    private static CountDifference? DifferenceOf(Job job, Incoming incoming) => job.Groups.Differences.LastOrDefault(one => one.Step.Entry == incoming.Id);

    private static (Signal Signal, Phrase Line) Counted(Job job, string group, Incoming incoming) => DifferenceOf(job, incoming) is not { } difference
        ? (Signal.Ok, Phrase.Of("{0}: the count agrees", new Term("group", group)))
        : difference.IsLoss
            ? (Signal.Stop, Phrase.Of("STOP: {0} has {1} of {2}", new Term("group", group), difference.Counted, difference.Expected))
            : (Signal.Stop, Phrase.Of("STOP: {0} has {1}, not {2}", new Term("group", group), difference.Counted, difference.Expected));

    private static Phrase Left(Phrase said, int groups) => groups > 0 ? Phrase.Of("{0}; {1} left", said, groups) : said;

    private static (Signal Signal, Phrase Line) DayTold(Job job, TrialDayRecorded told)
    {
        var trial = TrialResult.Of(job.Trials.Of(told.Trial));
        return !TrialSequence.IsLike(told.Day, told.Position, told.TemperatureCelsius) ? (Signal.Ask, Phrase.Of("Day {0} told, unlike the sequence: no verdict", told.Day))
            : trial.MissingDays.IsEmpty ? (Signal.Ok, Phrase.Of("Day {0} told; all 15 days are there", told.Day))
            : (Signal.Ok, Phrase.Of("Day {0} told; {1} still missing", told.Day, trial.MissingDays.Length));
    }

    private static Phrase DueLine(Job job, ShopRules rules) =>
        job.WearChecks.Running?.Due is { } due ? Phrase.Of("Read it from {0} on", due.InZone(rules.Calendar.Zone)) : Phrase.Of("Started");

    /// <summary>What happened, and the stages that stood before and do not any more: their names, or their number where a line cannot hold them.</summary>
    private static Phrase Again(Phrase happened, Job before, Job after, Language language)
    {
        var again = StagesAgain(before, after);
        var named = Phrase.Of("{0}. Again: {1}", happened, again);
        return again.Parts.Count == 0 ? happened
            : named.In(language).Length <= Phrase.LineAtMost ? named
            : Phrase.Of("{0}. {1} stages again", happened, again.Parts.Count);
    }

    private static Series StagesAgain(Job before, Job after) => new(
        [.. before.Standings.Required.Select(one => one.Stage)
            .Where(stage => before.Standings.Of(stage).State is StageState.Done or StageState.Running && after.Standings.Of(stage).State is StageState.Void or StageState.GroundLost)
            .Where(stage => StageTable.Of(stage).EndedBy != EndedBy.Reached)]);

    private static string? MoreOf(Job before, Decision decision, Incoming incoming, ShopRules rules, string line, Language language)
    {
        var (job, told) = (decision.Job, incoming.Event);
        var again = StagesAgain(before, job);
        Phrase?[] more =
        [
            told is WearCheckStarted && job.Route?.Wear?.WoundDaily == true ? Phrase.Of("Wind it every day at the same hour.") : null,
            told is WearCheckStarted && job.Route?.Wear?.Advised is { } advised && job.WearChecks.Running is { } running && running.Terms.Owed < advised
                ? Phrase.Of("A check over {0} days is advised.", (int)advised.TotalDays)
                : null,
            told is FindingRecorded { Severity: Severity.Must } && job.Quotes.AnyAccepted ? Phrase.Of("It must be put right: ask whether the quote covers it, or send another.") : null,
            .. told is WearCheckRead && decision.Entries.LastOrDefault(one => one.Entry.Event == told)?.Entry.Id is { } read ? WearSaying.More(job, read) : [],
            again.Parts.Count > 0 && !line.Contains(Phrase.Of("{0}", again).In(language), StringComparison.Ordinal) ? Phrase.Of("To be done again: {0}.", again) : null,
            .. job.Timekeeping.Find(incoming.Id) is { } set ? RateSaying.More(set, job, rules) : [],
            told is FunctionChecked { Function: WatchFunction.QuickCorrection } ? FunctionWords.NoQuickCorrection(rules.Functions) : null,
            decision.Flags.Contains(EntryFlag.OpeningImplied) ? Phrase.Of("The case counted as closed; its opening is taken as told.") : null,
            before.Promise.On is { } was && job.Promise.On is { } on && was != on ? Phrase.Of("The promised date moved from {0} to {1}.", was, on) : null,
            job.Standings.GroundLost.Any() && !before.Standings.GroundLost.SequenceEqual(job.Standings.GroundLost) ? Phrase.Of("A manager is told: results have lost their ground.") : null,
            decision.Flags.Contains(EntryFlag.ClockSuspect) ? Phrase.Of("The device's clock cannot be right; the time of receipt counts.") : null,
        ];
        var said = string.Join(' ', more.OfType<Phrase>().Select(one => one.In(language)));
        return said.Length == 0 ? null : said;
    }

    /// <summary>The reminders of the watch itself, and those of the work an event begins.</summary>
    public static ImmutableArray<Caution> CautionsOf(Job job, Language language, WorkshopEvent? one = null)
    {
        Stage? stage = one switch
        {
            StageStarted started => started.Stage,
            WaterTestRecorded => Stage.WaterTest,
            TakedownStep { Caution: TurnedCaution.SpringTension } => Stage.Takedown,
            _ => null,
        };
        var ids = job.Intake.Hazards.Concat(stage is { } at ? Hazard.AtStage(at) : []).Distinct();
        return Hazard.Cautions(ids, language);
    }

    private static Phrase Next(Phrase done, Job job) =>
        job.Standings.Current is { } next && !job.Standings.Stands(next) ? Phrase.Of("{0}. Next: {1}", done, next) : done;

    private static object PiecesOf(Job job, PieceEvent moved) => job.Pieces.Meant(moved) switch
    {
        [var one] => one.Term,
        var several => Phrase.Of("{0} pieces", several.Length),
    };
}
