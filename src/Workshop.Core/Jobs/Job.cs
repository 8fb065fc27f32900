using System.Collections.Immutable;
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
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Core.Money;
using Workshop.Core.Notes;
using Workshop.Core.Parties;
using Workshop.Core.Parts;
using Workshop.Core.Pieces;
using Workshop.Core.Promises;
using Workshop.Core.PublicPage;
using Workshop.Core.Quotes;
using Workshop.Core.Reports;
using Workshop.Core.ReserveTests;
using Workshop.Core.Route;
using Workshop.Core.Shipments;
using Workshop.Core.Stops;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Trials;
using Workshop.Core.Waivers;
using Workshop.Core.Warranties;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.WearReports;

namespace Workshop.Core.Jobs;

/// <summary>
/// A job as folded from its entries: the areas side by side. Folding never refuses, never throws, and reads no clock, calendar, setting
/// or other job. Each entry goes to the area that owns its type; what the area says of stages goes to the standings, and what fell there
/// is told to the areas that care.
/// </summary>
public sealed record Job
{
    public required Label Label { get; init; }

    /// <summary>Entries folded; the stream version of the newest.</summary>
    public long Version { get; init; }

    /// <summary>The place of the last entry in order; an entry behind it can be applied to this value.</summary>
    public Place? Last { get; init; }

    public IntakeRecord Intake { get; init; } = new();

    public Standings Standings { get; init; } = Standings.Empty;

    public JobLabels Labels { get; init; } = new();

    /// <summary>What entries say of the people round the watch.</summary>
    public PartyRecord PartiesSaid { get; init; } = new();

    /// <summary>The people round the watch; everyone is the customer of the intake until told otherwise.</summary>
    public PartyBook Parties => new(Intake.Customer, PartiesSaid);

    /// <summary>What people round the watch were told.</summary>
    public LetterBook Letters { get; init; } = new();

    public PieceLedger Pieces { get; init; } = new();

    /// <summary>Spare parts: set aside, awaited, fitted.</summary>
    public PartBook Parts { get; init; } = new();

    public GroupLedger Groups { get; init; } = new();

    /// <summary>Its cages in the cleaning room.</summary>
    public LoadBook Cages { get; init; } = new();

    public CaseState Case { get; init; } = CaseState.Unknown;

    public TakedownRecord Takedown { get; init; } = new();

    public TimekeepingRecord Timekeeping { get; init; } = new();

    public TrialBook Trials { get; init; } = new();

    public WaterTestRecord WaterTests { get; init; } = new();

    public WearCheckRecord WearChecks { get; init; } = new();

    /// <summary>Times it was found stopped, and what was found behind them.</summary>
    public StopBook Stops { get; init; } = new();

    public FunctionBook Functions { get; init; } = new();

    public ReserveBook Reserve { get; init; } = new();

    /// <summary>What it adds to the control charts and to the comparison of instruments.</summary>
    public RateLedger Rates { get; init; } = new();

    /// <summary>What customers told of the watch after it left.</summary>
    public WearReportBook WearReports { get; init; } = new();

    public FinalControlRecord FinalControl { get; init; } = new();

    public HoldBook Holds { get; init; } = new();

    public WaiverBook Waivers { get; init; } = new();

    public QuoteBook Quotes { get; init; } = new();

    public MoneyBook Money { get; init; } = new();

    public PromiseBook Promise { get; init; } = new();

    public WarrantyBook Warranty { get; init; } = new();

    /// <summary>What its customer disputes.</summary>
    public DisputeBook Disputes { get; init; } = new();

    /// <summary>Parcels it travelled in.</summary>
    public ShipmentBook Shipments { get; init; } = new();

    public AnnouncementLog Announcements { get; init; } = new();

    /// <summary>How far it has come, as its customer is told.</summary>
    public PublicProgress Progress { get; init; } = new();

    /// <summary>Reports that wait for a person.</summary>
    public ImmutableArray<Review> Reviews { get; init; } = [];

    /// <summary>Every holding of every piece and every cage, ended ones too.</summary>
    public ImmutableArray<Holding> Holdings => Cages.Loads.IsEmpty ? Pieces.Holdings : [.. Pieces.Holdings, .. Cages.Holdings];

    public RouteDefinition? Route => Standings.Route;

    public bool TakenIn => Intake.TakenIn;

    /// <summary>Folds entries given in any order.</summary>
    public static Job Replay(Label label, IEnumerable<Entry> entries) =>
        Reckoning.InOrder(entries).Aggregate(new Job { Label = label }, (job, entry) => job.Apply(entry));

    /// <summary>
    /// The job after one more entry, whose place is behind all others. A correction or settlement changes what counted before: after one
    /// the job is folded from the beginning.
    /// </summary>
    public Job Apply(Entry entry)
    {
        var job = this with { Version = Version + 1, Last = entry.Place };
        if (entry.OfNoEffect)
        {
            return job;
        }

        if (!entry.Counts)
        {
            return job with
            {
                Reviews = Reviews.Add(new Review(entry.Id, entry.Event.Type, entry.Effective, entry.Person, entry.Judged.Failed)),
                Cages = Cages.HearNoted(entry),
            };
        }

        // Before the watch is in the house there is nothing to change: kept, no effect.
        if (!TakenIn && entry.Event is not JobTakenIn)
        {
            return job;
        }

        var heard = job.Hear(entry);
        return heard with
        {
            Waivers = job.Waivers.Apply(entry),

            // However it came to be open: whoever forgot to say so has opened it all the same.
            WaterTests = job.Case.Closed && !heard.Case.Closed ? heard.WaterTests.HearOpened(entry.Effective) : heard.WaterTests,
            Rates = job.Rates.Hear(entry, heard.Timekeeping, heard.WearChecks, touched: (Touches(entry.Event) && !(entry.Event is StageStarted or StageFinished && heard.Standings == job.Standings)) || (job.Case.Closed && !heard.Case.Closed)),
            WearChecks = heard.WearChecks.HearTouched(opened: job.Case.Closed && !heard.Case.Closed, entry),
            Progress = job.Progress.Hear(job, heard, entry),
        };
    }

    /// <summary>What a day on the wrist would bring by the newest set at full wind since the index was touched and the movement rebuilt.</summary>
    public PredictedRate? PredictedRate(WearProfile profile)
    {
        var rebuilt = Standings.Of(Stage.Rebuild).Since;
        return Timekeeping.RateSets.LastOrDefault(set =>
            set.Told is { WindState: WindState.Full, ChronographRunning: not true }
            && (Timekeeping.IndexTouchedAt is not { } touched || set.At > touched)
            && (rebuilt is not { } then || set.At >= then)) is { } newest
            ? Core.Timekeeping.PredictedRate.Of(newest.Told.Readings, profile)
            : null;
    }

    // After any of these an instrument has another watch before it.
    private static bool Touches(WorkshopEvent one) =>
        one is IndexTouched or TakedownEvent or CaseOpened or PartFitted or StageSentBack
            or StageStarted { Stage: Stage.Takedown or Stage.Rebuild } or StageFinished { Stage: Stage.Takedown or Stage.Rebuild };

    private Job Hear(Entry entry)
    {
        switch (entry.Event)
        {
            case JobTakenIn when TakenIn:
                return this;
            case JobTakenIn taken:
                var begun = this with { Standings = Standings with { Route = entry.Judged.Route } };
                var intake = begun.Intake.Apply(entry);
                return (begun with { Intake = intake.Area, Pieces = Pieces.Apply(entry).Area, Case = Case.Apply(entry, begun.Standings).Area, Quotes = Quotes.Begin(taken, begun.Route, entry) }).Say(intake.Says, entry);
            case IntakeCompleted or PolishConfirmed:
                return this with { Intake = Intake.Apply(entry).Area };

            case PartiesChanged or PartyStandingTold:
                return this with { PartiesSaid = PartiesSaid.Apply(entry) };

            case CustomerTold or LetterReleased:
                return this with { Letters = Letters.Apply(entry) };

            case VariantChanged when entry.Judged.Route is { } route:
                var other = (this with { Intake = Intake.Apply(entry).Area, Quotes = Quotes.Change(route, entry), Money = Money.Apply(entry) }).Say([new RouteChanged(route)], entry);

                // A check that the new kind of work does not have is neither pass nor fail.
                return route.Has(Stage.WearCheck) ? other : other with { WearChecks = other.WearChecks.HearFallen([Stage.WearCheck], entry) };

            case StageStarted started:
                return (ImplyOpening(started.Stage, entry) with { Groups = Groups.Begin(entry) }).Say([new Began(started.Stage)], entry);
            case StageFinished finished when StageTable.CanBeTold(finished.Stage):
                var told = finished.Stage == Stage.Inspection ? Groups.ForgetTheFall() : Groups.Begin(entry);
                var rebuilt = finished.Stage == Stage.Rebuild && !Standings.Of(Stage.Rebuild).IsBehind ? Timekeeping.Rebuilt() : Timekeeping;
                return (ImplyOpening(finished.Stage, entry) with { Groups = told, Timekeeping = rebuilt }).Say([new Ended(finished.Stage)], entry);
            case StageSentBack back:
                return (this with { Groups = Groups.ForgetTheFall() }).Say([new Fell(back.To)], entry);

            case PieceGiven or PieceTaken or PiecePut:
                return this with { Pieces = Pieces.Apply(entry).Area };
            case LabelAttached or LabelReplaced:
                return this with { Labels = Labels.Apply(entry), Pieces = Pieces.Apply(entry).Area };
            case JobHandedOver:
                var pieces = Pieces.Apply(entry);
                var left = (this with { Pieces = pieces.Area, Warranty = Warranty.Apply(entry).Area }).Say(pieces.Says, entry);
                return left.Standings.HandedOver ? left with { Parts = Parts.Close(entry) } : left;
            case PartFitted:
                var fitted = Groups.Apply(entry, Standings);
                return (this with { Groups = fitted.Area, Parts = Parts.Apply(entry) }).Say(fitted.Says, entry);
            case PartEvent:
                return this with { Parts = Parts.Apply(entry) };

            case CageLoaded or CageEmptied:
                return this with { Groups = Groups.Apply(entry, Standings).Area, Cages = Cages.Apply(entry) };
            case LossReported or CountDiffers or PartLost or PartFound:
                return this with { Holds = Holds.Apply(entry) };
            case GroupEvent:
                var groups = Groups.Apply(entry, Standings);
                return (this with { Groups = groups.Area, Takedown = Takedown.Apply(entry) }).Say(groups.Says, entry);

            case CaseClosed or CaseOpened or SealSeen:
                var closing = Case.Apply(entry, Standings);
                return (this with { Case = closing.Area }).Say(closing.Says, entry);

            case TakedownEvent or FindingRecorded or InspectionRecorded:
                return this with { Takedown = Takedown.Apply(entry) };
            case IndexTouched:
                var touched = Timekeeping.Apply(entry);
                return (OpenImplied(entry) with { Timekeeping = touched.Area }).Say(touched.Says, entry);
            case RateSetRecorded:
                return this with { Timekeeping = Timekeeping.Apply(entry).Area, WearChecks = WearChecks.Apply(entry, Timekeeping, Case.Closed).Area };
            case LiftAngleCorrected or ToleranceExcepted:
                return this with { Timekeeping = Timekeeping.Apply(entry).Area };
            case TrialDayRecorded:
                return this with { Trials = Trials.Apply(entry) };
            case WaterTestRecorded:
                var water = WaterTests.Apply(entry, Case);
                return (this with { WaterTests = water.Area }).Say(water.Says, entry);
            case WearCheckEvent or ClockStepped:
                var wear = WearChecks.Apply(entry, Timekeeping, Case.Closed);
                return (this with { WearChecks = wear.Area, Stops = Stops.Apply(entry).HearWorn(wear.Area) }).Say(wear.Says, entry);
            case StopExplained:
                return this with { Stops = Stops.Apply(entry) };
            case FunctionChecked:
                return this with { Functions = Functions.Apply(entry) };
            case ReserveTestStarted or ReserveTestRead:
                return this with { Reserve = Reserve.Apply(entry) };
            case WearReported or WearReportAnswered:
                return this with { WearReports = WearReports.Apply(entry) };
            case FinalControlPassed or FinalControlRefused:
                var control = FinalControl.Apply(entry);
                return (this with { FinalControl = control.Area, Groups = entry.Event is FinalControlRefused ? Groups.ForgetTheFall() : Groups }).Say(control.Says, entry);

            case HoldPlaced or HoldLifted or MixUpSuspected or DamageSeen:
                return this with { Holds = Holds.Apply(entry) };
            case QuoteSent or QuoteAnswered or QuotePriceChanged:
                var quote = Quotes.Apply(entry);
                return (this with { Quotes = quote.Area }).Say(quote.Says, entry);
            case PaymentRecorded or PaymentCorrected or AccountChanged:
                return this with { Money = Money.Apply(entry) };
            case PromiseGiven or PromiseMoved:
                return this with { Promise = Promise.Apply(entry) };
            case DeliveryRecorded or ClaimReported or ClaimDecided or ClaimStayRecorded or JobClosed:
                var warranty = Warranty.Apply(entry);
                return (this with { Warranty = warranty.Area }).Say(warranty.Says, entry);
            case DisputeOpened or DisputeClosed:
                return this with { Disputes = Disputes.Apply(entry) };
            case ShipmentSent or ShipmentDelivered or ShipmentLost:
                return this with { Shipments = Shipments.Apply(entry) };
            case ReportSettled settled:
                return this with { Holds = Holds.Apply(entry), Reviews = Reviews.RemoveAll(review => review.Id == settled.Of) };
            case DueAnnounced:
                return this with { Announcements = Announcements.Apply(entry) };

            // Notes and waivers live in the history alone, corrections have spoken before the fold began, and what nobody knows is kept
            // without effect.
            default:
                return this;
        }
    }

    private Job Say(ImmutableArray<StageWord> says, Entry entry)
    {
        var (standings, fell) = Standings.Hear(says, entry);
        return fell.IsEmpty
            ? this with { Standings = standings }
            : this with { Standings = standings, WearChecks = WearChecks.HearFallen(fell, entry), Stops = Stops.HearFallen(fell), Reserve = Reserve.HearFallen(fell, entry) };
    }

    private Job ImplyOpening(Stage stage, Entry entry) =>
        StageTable.Of(stage).OpensTheCase && Standings.InPlan(stage) is not null && !Standings.Of(stage).IsBehind ? OpenImplied(entry) : this;

    private Job OpenImplied(Entry entry)
    {
        if (!Case.Closed)
        {
            return this;
        }

        var opened = Case.ImplyOpening(entry);
        return (this with { Case = opened.Area }).Say(opened.Says, entry);
    }

    /// <summary>True when hearing this event here would open a case that counts as closed.</summary>
    public bool WouldImplyOpening(WorkshopEvent one) => Case.Closed && one switch
    {
        IndexTouched => true,
        StageStarted { Stage: var stage } => OpensNow(stage),
        StageFinished { Stage: var stage } => OpensNow(stage),
        _ => false,
    };

    private bool OpensNow(Stage stage) =>
        StageTable.Of(stage).OpensTheCase && Standings.InPlan(stage) is not null && !Standings.Of(stage).IsBehind;
}
