using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Charts;
using Workshop.Core.Cleaning;
using Workshop.Core.Corrections;
using Workshop.Core.FinalControls;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Gates;
using Workshop.Core.Groups;
using Workshop.Core.House;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Parts;
using Workshop.Core.Pieces;
using Workshop.Core.Reports;
using Workshop.Core.ReserveTests;
using Workshop.Core.Route;
using Workshop.Core.Scans;
using Workshop.Core.Sources;
using Workshop.Core.Stops;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Trials;
using Workshop.Core.Waivers;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Core.Jobs;

/// <summary>What is wrong in an event alone, whatever the job's state; answered 422, late or not.</summary>
public static class EventFaults
{
    /// <summary>Half a day: hands cannot show more, ahead or behind.</summary>
    private const int OffsetAtMostSeconds = 43_200;

    private static readonly Duration[] OwedOnAsking = [Duration.FromHours(24), Duration.FromHours(48), Duration.FromHours(168)];

    public static IEnumerable<Fault> Of(WorkshopEvent one) => one switch
    {
        StageStarted started when !StageTable.CanBeStarted(started.Stage) => [new Fault("/stage", Phrase.Of("'{0}' is not started by anybody.", started.Stage))],
        StageFinished { Stage: Stage.Expected or Stage.Queue or Stage.Ready or Stage.Closed } finished => [new Fault("/stage", Phrase.Of("'{0}' is reached, never posted.", finished.Stage))],
        StageSentBack back => ToAStage(back.To),
        FinalControlRefused refused => ToAStage(refused.To),
        WearCheckResumed { Kind: WearCheckKind.Static } => [new Fault("/kind", Phrase.Of("A static check is never paused; start a fresh one."))],
        WearCheckStarted { Kind: WearCheckKind.Static } started => Offset(started.OffsetSeconds).Concat(started.Owed is null ? [] : [new Fault("/owed", Phrase.Of("A static check owes a day; nothing else is asked for."))]),
        WearCheckStarted started => Offset(started.OffsetSeconds).Concat(OwedFor(started)),
        RateSetRecorded set => RateFaults.Of(set),
        LiftAngleCorrected corrected => RateFaults.LiftAngle(corrected.LiftAngleDegrees),
        ToleranceExcepted excepted => Given(excepted.Reason),
        WearCheckRead { Kind: WearCheckKind.Static } still => Offset(still.OffsetSeconds),
        WearCheckRead read => Reading(read).Concat(Offset(read.OffsetSeconds)).Concat(Counts(read)),
        TakedownEvent or FindingRecorded or InspectionRecorded => TakedownFaults.Of(one),
        TrialDayRecorded told => TrialFaults.Of(told),
        FunctionChecked told => FunctionFaults.Of(told),
        ReserveTestStarted started => ReserveFaults.Of(started).Concat(Offset(started.OffsetSeconds)),
        ReserveTestRead read => ReserveFaults.Of(read),
        WaterTestRecorded test => WaterFaults.Of(test),
        StopExplained { Remark.Length: > 2_000 } => [new Fault("/remark", Phrase.Of("A remark is at most {0} letters.", 2_000))],
        LabelAttached attached => Attached(attached),
        LabelReplaced replaced => Replaced(replaced),
        ScanMade { Codes.Length: 0 or > ScanMade.CodesAtMost } => [new Fault("/codes", Phrase.Of("A scan has 1 to {0} codes.", ScanMade.CodesAtMost))],
        PiecePut { To: null } => [new Fault("/to", Phrase.Of("Where it was put is missing."))],
        PieceGiven { To: null } => [new Fault("/to", Phrase.Of("To whom it was given is missing."))],
        PieceGiven { InsuredMinor: < 0 } => [new Fault("/insuredMinor", Phrase.Of("A sum is not less than nothing."))],
        PieceGiven given when given.InsuredMinor is null != given.Currency is null => [new Fault("/currency", Phrase.Of("A sum and its currency go together."))],
        PieceGiven given when given.Currency is { } currency && !IsCurrency(currency) => [new Fault("/currency", Phrase.Of("A currency is three capital letters, for example CHF."))],
        PieceTaken { Count: < 0 } or PiecePut { Count: < 0 } => [new Fault("/count", Phrase.Of("Fewer than none cannot be counted."))],
        PartEvent { Count: < 1 } => [new Fault("/count", Phrase.Of("A part comes and goes in whole pieces, one at least."))],
        PartEvent part when string.IsNullOrWhiteSpace(part.Part) => [new Fault("/part", Phrase.Of("Which part is missing."))],
        PartReleased { TakenBy: not null } or PartReleased { ExpectedOn: not null } or PartReleased { Essential: not null } => [new Fault("/takenBy", Phrase.Of("Only the service says who was given it."))],
        SafeCounted counted => Counted(counted),
        ControlChartRestarted restarted => Given(restarted.Reason),
        CorrectionMade made => Given(made.Reason),
        ReportSettled settled => Given(settled.Reason),
        PersonCorrected mended => Stretch(mended),
        WaiverGiven waiver when !GateTable.Knows(waiver.Gate) => [new Fault("/gate", Phrase.Of("There is no gate '{0}'.", waiver.Gate))],
        WaiverGiven waiver when !GateTable.Of(waiver.Gate).Waivable => [new Fault("/gate", Phrase.Of("'{0}' cannot be waived.", waiver.Gate))],
        GapDeclared gap when gap.From < 1 || gap.To < gap.From => [new Fault("/to", Phrase.Of("A gap goes from a number to the same or a higher one, from 1 on."))],
        GroupDeclared declared => Named(declared.Group, "/group").Concat(Counted(declared.Count)).Concat(Listed(declared.Members, "/members")).Concat(Listed(declared.Flags, "/flags")),
        GroupNotWashed not => Named(not.Group, "/group").Concat(Given(not.Reason)),
        GroupReopened reopened => Named(reopened.Group, "/group").Concat(Given(reopened.Reason)),
        GroupReplaced replaced => Named(replaced.Group, "/group").Concat(APart(replaced.Part)),
        CountRecorded count => Named(count.Group, "/group").Concat(Counted(count.Count)),
        GroupHandCleaned or GroupInspected => Named(((GroupEvent)one).Group, "/group"),
        PartFitted fitted => APart(fitted.Part).Concat(fitted.Group is { } group ? Named(group, "/group") : []),
        PartLost lost => APart(lost.Part).Concat(lost.Group is { } group ? Named(group, "/group") : []),
        PartFound found => APart(found.Part).Concat(found.Group is { } group ? Named(group, "/group") : []),
        CageLoaded loaded => Named(loaded.Cage, "/cage").Concat(Named(loaded.Group, "/group")).Concat(ARun(loaded.Run)).Concat(Counted(loaded.Count)),
        CageEmptied emptied => Named(emptied.Cage, "/cage").Concat(emptied.Run is { } run ? ARun(run) : []).Concat(Counted(emptied.Count)),
        RunStarted started => Named(started.Machine, "/machine").Concat(Named(started.Programme, "/programme")),
        RunAborted aborted => Given(aborted.Reason),
        MachineStopped stopped => Given(stopped.Reason),
        FluidFilled filled => Named(filled.Batch, "/batch").Concat(Named(filled.Jar, "/jar")).Concat(Poured(filled.Litres)),
        FluidMoved moved => Named(moved.Batch, "/batch").Concat(Named(moved.FromJar, "/fromJar")).Concat(Named(moved.ToJar, "/toJar")),
        FluidDiscarded discarded => Named(discarded.Batch, "/batch").Concat(Poured(discarded.Litres)),
        DeviceHeard { QueueLength: < 0 } => [new Fault("/queueLength", Phrase.Of("Fewer than none cannot wait."))],
        DeviceHeard { Battery: < 0 or > 100 } => [new Fault("/battery", Phrase.Of("A charge is 0 to 100 percent."))],
        _ => [],
    };

    /// <summary>What a watch without a balance cannot have; such figures came from another watch.</summary>
    public static IEnumerable<Fault> OfQuartz(WorkshopEvent one)
    {
        if (one is ReserveTestStarted or ReserveTestRead)
        {
            yield return new Fault("/fullyWound", Phrase.Of("A quartz watch is not wound and has no reserve."));
        }

        if (one is TrialDayRecorded)
        {
            yield return new Fault("/trial", Phrase.Of("The trial of ISO 3159 is of a watch with balance and spring; a quartz watch has none."));
        }

        if (one is LiftAngleCorrected)
        {
            yield return new Fault("/liftAngleDegrees", Phrase.Of("A quartz watch has no balance and no lift angle."));
        }

        if (one is WearCheckEvent { Kind: WearCheckKind.Static })
        {
            yield return new Fault("/kind", Phrase.Of("A quartz watch has no spring that runs down; check it worn."));
        }

        if (one is not RateSetRecorded set)
        {
            yield break;
        }

        if (set.LiftAngleDegrees is not null)
        {
            yield return new Fault("/liftAngleDegrees", Phrase.Of("A quartz watch has no balance and no lift angle."));
        }

        foreach (var (i, reading) in set.Readings.Index())
        {
            if (reading.AmplitudeDegrees is not null)
            {
                yield return new Fault($"/readings/{i}/amplitudeDegrees", Phrase.Of("A quartz watch has no amplitude."));
            }

            if (reading.BeatErrorMilliseconds is not null)
            {
                yield return new Fault($"/readings/{i}/beatErrorMilliseconds", Phrase.Of("A quartz watch has no beat error."));
            }
        }
    }

    private static IEnumerable<Fault> Counts(WearCheckRead read)
    {
        if (read.Midnights < 0)
        {
            yield return new Fault("/midnights", Phrase.Of("Fewer than none cannot be counted."));
        }

        if (read.Resets is { } resets && (resets.Tried < 0 || resets.Right < 0 || resets.Right > resets.Tried))
        {
            yield return new Fault("/resets", Phrase.Of("As many resets were right as were tried, at most."));
        }
    }

    private static IEnumerable<Fault> ToAStage(Stage to)
    {
        // Money is never void, and a watch that went back unrepaired is not sent back.
        if (!StageTable.CanBeStarted(to) || to is Stage.Settlement or Stage.ReturnUnrepaired)
        {
            yield return new Fault("/to", Phrase.Of("Nothing is sent back to '{0}'.", to));
        }
    }

    private static IEnumerable<Fault> Attached(LabelAttached attached)
    {
        if (attached.Label.Kind is not (LabelKind.Job or LabelKind.Piece))
        {
            yield return new Fault("/label", Phrase.Of("A watch has labels of the kind job, its pieces of the kind piece."));
        }
        else if ((attached.Label.Kind == LabelKind.Piece) != (attached.Piece is not null))
        {
            yield return new Fault("/piece", Phrase.Of("A label of the kind piece goes with a piece, and no other does."));
        }
    }

    private static IEnumerable<Fault> Replaced(LabelReplaced replaced)
    {
        if (replaced.Label.Kind is not (LabelKind.Job or LabelKind.Piece))
        {
            yield return new Fault("/label", Phrase.Of("This is no label of a watch or of a piece."));
        }
        else if (replaced.By.Kind != replaced.Label.Kind || replaced.By == replaced.Label)
        {
            yield return new Fault("/by", Phrase.Of("A label is replaced by another one of its kind."));
        }
    }

    private static IEnumerable<Fault> Given(string reason)
    {
        if (string.IsNullOrWhiteSpace(reason))
        {
            yield return new Fault("/reason", Phrase.Of("Why is missing; somebody will ask."));
        }
    }

    // Cages, groups, machines and batches are called by short names, which become parts of addresses.
    private static IEnumerable<Fault> Named(string name, string pointer)
    {
        if (name.Length is 0 or > 60 || !char.IsAsciiLetterOrDigit(name[0]) || name.Any(letter => !char.IsAsciiLetterOrDigit(letter) && letter != '-'))
        {
            yield return new Fault(pointer, Phrase.Of("A short name is of letters, digits and hyphens, at most 60."));
        }
    }

    private static IEnumerable<Fault> Listed(ImmutableArray<string> names, string pointer)
    {
        if (names.Length > 200 || names.Any(name => string.IsNullOrWhiteSpace(name) || name.Length > 120))
        {
            yield return new Fault(pointer, Phrase.Of("At most 200 names, none of them empty or longer than 120."));
        }
    }

    private static IEnumerable<Fault> APart(string part)
    {
        if (string.IsNullOrWhiteSpace(part) || part.Length > 120)
        {
            yield return new Fault("/part", Phrase.Of("A part is named, in at most 120 letters."));
        }
    }

    private static IEnumerable<Fault> ARun(string run)
    {
        if (!Guid.TryParseExact(run, "D", out _) || run.Any(char.IsUpper))
        {
            yield return new Fault("/run", Phrase.Of("A run is a UUID in lower case."));
        }
    }

    private static IEnumerable<Fault> Counted(int? count)
    {
        if (count < 0)
        {
            yield return new Fault("/count", Phrase.Of("Fewer than none cannot be counted."));
        }
    }

    private static IEnumerable<Fault> Poured(decimal? litres)
    {
        if (litres is <= 0 or > 1_000)
        {
            yield return new Fault("/litres", Phrase.Of("Litres are more than 0 and at most 1000."));
        }
    }

    private static IEnumerable<Fault> Stretch(PersonCorrected mended)
    {
        if (mended.FromSequence < 1)
        {
            yield return new Fault("/fromSequence", Phrase.Of("A device counts from 1."));
        }

        if (mended.ToSequence < mended.FromSequence)
        {
            yield return new Fault("/toSequence", Phrase.Of("The last number meant is not before the first."));
        }

        foreach (var fault in Given(mended.Reason))
        {
            yield return fault;
        }
    }

    private static bool IsCurrency(string text) => text.Length == 3 && text.All(char.IsAsciiLetterUpper);

    private static IEnumerable<Fault> Counted(SafeCounted counted)
    {
        foreach (var (i, piece) in counted.Pieces.Index())
        {
            if (string.IsNullOrWhiteSpace(piece))
            {
                yield return new Fault($"/pieces/{i}", Phrase.Of("Which piece is missing."));
            }
        }

        foreach (var (i, piece) in (counted.Missing ?? []).Index())
        {
            if (string.IsNullOrWhiteSpace(piece))
            {
                yield return new Fault($"/missing/{i}", Phrase.Of("Which piece is missing."));
            }
        }
    }

    private static IEnumerable<Fault> Reading(WearCheckRead read)
    {
        if (read.Stopped == true && read.OffsetSeconds is not null)
        {
            yield return new Fault("/offsetSeconds", Phrase.Of("A stopped watch has no offset."));
        }

        if (read.Stopped != true && read.OffsetSeconds is null)
        {
            yield return new Fault("/offsetSeconds", Phrase.Of("A reading has an offset, or says that the watch stopped."));
        }
    }

    private static IEnumerable<Fault> OwedFor(WearCheckStarted started)
    {
        if (started.Owed is { } owed && !OwedOnAsking.Contains(owed))
        {
            yield return new Fault("/owed", Phrase.Of("Wear is owed for PT24H, PT48H or PT168H."));
        }
    }

    private static IEnumerable<Fault> Offset(decimal? seconds)
    {
        if (seconds is { } told && Math.Abs(told) > OffsetAtMostSeconds)
        {
            yield return new Fault("/offsetSeconds", Phrase.Of("An offset is at most {0} seconds either way; hands cannot show more.", OffsetAtMostSeconds));
        }
    }
}
