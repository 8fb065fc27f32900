using System.Collections.Frozen;
using Workshop.Core.Agenda;
using Workshop.Core.Casing;
using Workshop.Core.Charts;
using Workshop.Core.Cleaning;
using Workshop.Core.Corrections;
using Workshop.Core.Disputes;
using Workshop.Core.FinalControls;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Groups;
using Workshop.Core.Holds;
using Workshop.Core.House;
using Workshop.Core.Intake;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Core.Money;
using Workshop.Core.Notes;
using Workshop.Core.Parties;
using Workshop.Core.Parts;
using Workshop.Core.People;
using Workshop.Core.PersonalData;
using Workshop.Core.Pieces;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;
using Workshop.Core.Reports;
using Workshop.Core.ReserveTests;
using Workshop.Core.Route;
using Workshop.Core.Scans;
using Workshop.Core.Shipments;
using Workshop.Core.Shop;
using Workshop.Core.Sources;
using Workshop.Core.Stops;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Trials;
using Workshop.Core.Waivers;
using Workshop.Core.Warranties;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.WearReports;

namespace Workshop.Core.Journal;

/// <summary>Who may be the sender of an event type.</summary>
public enum SentBy
{
    /// <summary>Through the bench door, <c>POST /v1/bench-events</c>.</summary>
    Bench,

    /// <summary>The service writes it itself, from a command or as a consequence.</summary>
    Service,
}

/// <summary>Every event type the journal knows, with the record that holds its content.</summary>
public static class EventCatalogue
{
    private static readonly (string Type, Type Record, SentBy SentBy)[] All =
    [
        ("stage.started", typeof(StageStarted), SentBy.Bench),
        ("stage.finished", typeof(StageFinished), SentBy.Bench),
        ("stage.sent-back", typeof(StageSentBack), SentBy.Bench),
        ("hold.placed", typeof(HoldPlaced), SentBy.Bench),
        ("hold.lifted", typeof(HoldLifted), SentBy.Bench),
        ("piece.given", typeof(PieceGiven), SentBy.Bench),
        ("piece.taken", typeof(PieceTaken), SentBy.Bench),
        ("piece.put", typeof(PiecePut), SentBy.Bench),
        ("part.reserved", typeof(PartReserved), SentBy.Bench),
        ("part.received", typeof(PartReceived), SentBy.Bench),
        ("part.checked", typeof(PartChecked), SentBy.Bench),
        ("part.fitted", typeof(PartFitted), SentBy.Bench),
        ("part.released", typeof(PartReleased), SentBy.Bench),
        ("label.attached", typeof(LabelAttached), SentBy.Bench),
        ("label.replaced", typeof(LabelReplaced), SentBy.Bench),
        ("scan.made", typeof(ScanMade), SentBy.Bench),
        ("case.closed", typeof(CaseClosed), SentBy.Bench),
        ("case.opened", typeof(CaseOpened), SentBy.Bench),
        ("seal.seen", typeof(SealSeen), SentBy.Bench),
        ("polish.confirmed", typeof(PolishConfirmed), SentBy.Bench),
        ("takedown.step", typeof(TakedownStep), SentBy.Bench),
        ("takedown.let-down", typeof(TakedownLetDown), SentBy.Bench),
        ("finding.recorded", typeof(FindingRecorded), SentBy.Bench),
        ("inspection.recorded", typeof(InspectionRecorded), SentBy.Bench),
        ("index.touched", typeof(IndexTouched), SentBy.Bench),
        ("rate-set.recorded", typeof(RateSetRecorded), SentBy.Bench),
        ("lift-angle.corrected", typeof(LiftAngleCorrected), SentBy.Bench),
        ("tolerance.excepted", typeof(ToleranceExcepted), SentBy.Bench),
        ("trial-day.recorded", typeof(TrialDayRecorded), SentBy.Bench),
        ("water-test.recorded", typeof(WaterTestRecorded), SentBy.Bench),
        ("wear-check.started", typeof(WearCheckStarted), SentBy.Bench),
        ("wear-check.paused", typeof(WearCheckPaused), SentBy.Bench),
        ("wear-check.resumed", typeof(WearCheckResumed), SentBy.Bench),
        ("wear-check.confirmed", typeof(WearCheckConfirmed), SentBy.Bench),
        ("wear-check.read", typeof(WearCheckRead), SentBy.Bench),
        ("function-check.recorded", typeof(FunctionChecked), SentBy.Bench),
        ("reserve-test.started", typeof(ReserveTestStarted), SentBy.Bench),
        ("reserve-test.read", typeof(ReserveTestRead), SentBy.Bench),
        ("stop.explained", typeof(StopExplained), SentBy.Bench),
        ("final-control.passed", typeof(FinalControlPassed), SentBy.Bench),
        ("final-control.refused", typeof(FinalControlRefused), SentBy.Bench),
        ("group.declared", typeof(GroupDeclared), SentBy.Bench),
        ("group.hand-cleaned", typeof(GroupHandCleaned), SentBy.Bench),
        ("group.not-washed", typeof(GroupNotWashed), SentBy.Bench),
        ("group.replaced", typeof(GroupReplaced), SentBy.Bench),
        ("group.reopened", typeof(GroupReopened), SentBy.Bench),
        ("group.inspected", typeof(GroupInspected), SentBy.Bench),
        ("count.recorded", typeof(CountRecorded), SentBy.Bench),
        ("part.lost", typeof(PartLost), SentBy.Bench),
        ("part.found", typeof(PartFound), SentBy.Bench),
        ("cage.loaded", typeof(CageLoaded), SentBy.Bench),
        ("cage.emptied", typeof(CageEmptied), SentBy.Bench),
        ("run.started", typeof(RunStarted), SentBy.Bench),
        ("run.finished", typeof(RunFinished), SentBy.Bench),
        ("run.aborted", typeof(RunAborted), SentBy.Bench),
        ("fluid.filled", typeof(FluidFilled), SentBy.Bench),
        ("fluid.moved", typeof(FluidMoved), SentBy.Bench),
        ("fluid.discarded", typeof(FluidDiscarded), SentBy.Bench),
        ("machine.stopped", typeof(MachineStopped), SentBy.Bench),
        ("waiver.given", typeof(WaiverGiven), SentBy.Bench),
        ("note.written", typeof(NoteWritten), SentBy.Bench),
        ("damage.seen", typeof(DamageSeen), SentBy.Bench),
        ("correction.made", typeof(CorrectionMade), SentBy.Bench),
        ("person.corrected", typeof(PersonCorrected), SentBy.Bench),
        ("report.settled", typeof(ReportSettled), SentBy.Bench),
        ("device.gap-declared", typeof(GapDeclared), SentBy.Bench),
        ("device.heard", typeof(DeviceHeard), SentBy.Bench),
        ("safe.counted", typeof(SafeCounted), SentBy.Bench),
        ("control-chart.restarted", typeof(ControlChartRestarted), SentBy.Bench),
        ("person.signed-on", typeof(PersonSignedOn), SentBy.Bench),
        ("person.signed-off", typeof(PersonSignedOff), SentBy.Bench),
        ("job.taken-in", typeof(JobTakenIn), SentBy.Service),
        ("intake.completed", typeof(IntakeCompleted), SentBy.Service),
        ("variant.changed", typeof(VariantChanged), SentBy.Service),
        ("parties.changed", typeof(PartiesChanged), SentBy.Service),
        ("party.standing-told", typeof(PartyStandingTold), SentBy.Service),
        ("quote.sent", typeof(QuoteSent), SentBy.Service),
        ("quote.answered", typeof(QuoteAnswered), SentBy.Service),
        ("quote.price-changed", typeof(QuotePriceChanged), SentBy.Service),
        ("payment.recorded", typeof(PaymentRecorded), SentBy.Service),
        ("payment.corrected", typeof(PaymentCorrected), SentBy.Service),
        ("account.changed", typeof(AccountChanged), SentBy.Service),
        ("promise.given", typeof(PromiseGiven), SentBy.Service),
        ("promise.moved", typeof(PromiseMoved), SentBy.Service),
        ("group.washed", typeof(GroupWashed), SentBy.Service),
        ("group.unknown", typeof(GroupUnknown), SentBy.Service),
        ("loss.reported", typeof(LossReported), SentBy.Service),
        ("count.differs", typeof(CountDiffers), SentBy.Service),
        ("run.planned", typeof(RunPlanned), SentBy.Service),
        ("run.loaded", typeof(RunLoaded), SentBy.Service),
        ("run.unloaded", typeof(RunUnloaded), SentBy.Service),
        ("fluid.used", typeof(FluidUsed), SentBy.Service),
        ("mix-up.suspected", typeof(MixUpSuspected), SentBy.Service),
        ("job.handed-over", typeof(JobHandedOver), SentBy.Service),
        ("delivery.recorded", typeof(DeliveryRecorded), SentBy.Service),
        ("wear.reported", typeof(WearReported), SentBy.Service),
        ("wear-report.answered", typeof(WearReportAnswered), SentBy.Service),
        ("claim.reported", typeof(ClaimReported), SentBy.Service),
        ("claim.decided", typeof(ClaimDecided), SentBy.Service),
        ("claim.stay-recorded", typeof(ClaimStayRecorded), SentBy.Service),
        ("dispute.opened", typeof(DisputeOpened), SentBy.Service),
        ("dispute.closed", typeof(DisputeClosed), SentBy.Service),
        ("shipment.sent", typeof(ShipmentSent), SentBy.Service),
        ("shipment.delivered", typeof(ShipmentDelivered), SentBy.Service),
        ("shipment.lost", typeof(ShipmentLost), SentBy.Service),
        ("part.expected", typeof(PartExpected), SentBy.Service),
        ("safe.compared", typeof(SafeCompared), SentBy.Service),
        ("stock.saved", typeof(StockSaved), SentBy.Service),
        ("clock.stepped", typeof(ClockStepped), SentBy.Service),
        ("customer.told", typeof(CustomerTold), SentBy.Service),
        ("letter.released", typeof(LetterReleased), SentBy.Service),
        ("due.announced", typeof(DueAnnounced), SentBy.Service),
        ("customer.erased", typeof(CustomerErased), SentBy.Service),
        ("job.closed", typeof(JobClosed), SentBy.Service),
        ("shop.document-saved", typeof(ShopDocumentSaved), SentBy.Service),
        ("back-up.made", typeof(BackUpMade), SentBy.Service),
    ];

    private static readonly FrozenDictionary<Type, string> Types = All.ToFrozenDictionary(row => row.Record, row => row.Type);

    private static readonly FrozenDictionary<string, (Type Record, SentBy SentBy)> Records =
        All.ToFrozenDictionary(row => row.Type, row => (row.Record, row.SentBy), StringComparer.Ordinal);

    /// <summary>All types with their record and sender, in the order of a watch's life.</summary>
    public static IEnumerable<(string Type, Type Record, SentBy SentBy)> Rows => All;

    public static string TypeOf(WorkshopEvent one) => Types[one.GetType()];

    /// <summary>The record that holds a type's content, or null for a type nobody knows.</summary>
    public static Type? RecordOf(string type) => Records.TryGetValue(type, out var row) ? row.Record : null;

    public static SentBy? SenderOf(string type) => Records.TryGetValue(type, out var row) ? row.SentBy : null;
}
