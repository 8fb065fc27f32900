using Workshop.Core.Casing;
using Workshop.Core.Charts;
using Workshop.Core.Corrections;
using Workshop.Core.Holds;
using Workshop.Core.House;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Notes;
using Workshop.Core.Parts;
using Workshop.Core.People;
using Workshop.Core.Pieces;
using Workshop.Core.Reports;
using Workshop.Core.Route;
using Workshop.Core.Scans;
using Workshop.Core.Sources;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Waivers;
using Workshop.Core.Words;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>Which roles may say what through the bench door. A manager may say everything.</summary>
public static class WhoMayPost
{
    private static readonly Role[] Benches = [Role.Bench];
    private static readonly Role[] Desks = [Role.Desk];
    private static readonly Role[] BenchesAndDesks = [Role.Bench, Role.Desk];

    public static bool May(Role role, WorkshopEvent one) => role == Role.Manager || (one switch
    {
        StageStarted started => OfStage(started.Stage),
        StageFinished finished => OfStage(finished.Stage),
        StageSentBack back => OfStage(back.Stage),
        HoldPlaced placed => HoldTable.MayPlace(placed.Hold, Word.Of(role)) ? [role] : [],
        HoldLifted lifted => HoldTable.MayLift(lifted.Hold, Word.Of(role)) ? [role] : [],
        PartReserved or PartReceived or PartChecked or PartReleased or SafeCounted => BenchesAndDesks,
        PieceEvent or LabelAttached or LabelReplaced or ScanMade or NoteWritten or DamageSeen or FindingRecorded or GapDeclared or DeviceHeard or CorrectionMade or PersonSignedOn or PersonSignedOff or PolishConfirmed => BenchesAndDesks,
        WaiverGiven or ReportSettled or PersonCorrected or ToleranceExcepted or ControlChartRestarted => [],
        MixUpSuspected => [],
        _ => Benches,
    }).Contains(role);

    private static Role[] OfStage(Stage stage) => stage switch
    {
        Stage.Intake or Stage.Diagnosis or Stage.Quote => BenchesAndDesks,
        Stage.Settlement or Stage.ReturnUnrepaired or Stage.HandedOver => Desks,
        _ => Benches,
    };
}
