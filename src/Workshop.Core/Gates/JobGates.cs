using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Groups;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Money;
using Workshop.Core.Parts;
using Workshop.Core.Pieces;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;
using Workshop.Core.ReserveTests;
using Workshop.Core.Route;
using Workshop.Core.Shipments;
using Workshop.Core.Stops;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Trials;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>
/// The gates that read the folded job alone. Asked at the event's own place, and again for a later entry when a late event slips in
/// before it. Each yields what stands against the event; silence is a pass.
/// </summary>
public static class JobGates
{
    public static IEnumerable<Objection> Ask(Job job, Asking asking) => LabelGates.ToldUnder(job, asking).Concat(AboutTheEvent(job, asking));

    private static IEnumerable<Objection> AboutTheEvent(Job job, Asking asking) => asking.Event switch
    {
        StageStarted started => InTheHouse(job, asking)
            .Concat(Start(job, asking, started.Stage)),
        StageFinished { Stage: Stage.Settlement } when !AlreadySo(job, asking.Event, asking.Person) => Finish(job, asking, Stage.Settlement)
            .Concat(MoneyGates.Settled(job, asking)),
        StageFinished finished => Finish(job, asking, finished.Stage),
        // Bad news counts wherever the watch is.
        StageSentBack back => SendBack(job, asking, back.Stage, back.To),
        CaseClosed when job.Standings.QueueReached => InTheHouse(job, asking)
            .Concat(Needs(job, asking, Stage.Casing))
            .Concat(HoldGate(job, asking, Blocks.Casing))
            .Concat(PiecesTogether(job, asking))
            .Concat(VariantGates.NothingLeftOpen(job, asking))
            .Concat(GroupGates.Close(job, asking)),
        CaseClosed => HoldGate(job, asking, Blocks.Casing),
        PieceTaken taken => InTheHouse(job, asking)
            .Concat(OneHolder(job, asking, taken))
            .Concat(PieceByPiece(job, asking, taken)),
        PiecePut put => InTheHouse(job, asking)
            .Concat(PieceByPiece(job, asking, put)),
        PieceGiven or PartReserved or PartFitted => InTheHouse(job, asking),
        WearCheckStarted { Kind: WearCheckKind.Static } started => InTheHouse(job, asking)
            .Concat(HoldGate(job, asking, Blocks.Starts | Blocks.Work))
            .Concat(WearGates.StartStatic(job, asking, started)),
        WearCheckStarted started => InTheHouse(job, asking)
            .Concat(InRoute(job, asking, Stage.WearCheck))
            .Concat(Needs(job, asking, Stage.WearCheck))
            .Concat(HoldGate(job, asking, Blocks.Starts | Blocks.Work))
            .Concat(WearGates.Start(job, asking, started))
            .Concat(TestGates.Undisturbed(job, asking, started)),
        ReserveTestStarted started => InTheHouse(job, asking)
            .Concat(HoldGate(job, asking, Blocks.Starts | Blocks.Work))
            .Concat(TestGates.Start(job, asking, started)),
        ReserveTestRead => TestGates.Running(job, asking),
        FunctionChecked => InTheHouse(job, asking),
        StopExplained explained => TestGates.StopKnown(job, asking, explained),
        TakedownEvent told => InTheHouse(job, asking)
            .Concat(TakedownGates.Step(job, asking, told)),
        InspectionRecorded => InTheHouse(job, asking),
        PolishConfirmed => InTheHouse(job, asking)
            .Concat(PolishWished(job, asking)),
        WearCheckRead { Kind: WearCheckKind.Static } read => WearGates.Running(job, asking, read.Kind)
            .Concat(WearGates.SetsToCompare(job, asking, read)),
        WearCheckRead read => WearGates.Running(job, asking, read.Kind)
            .Concat(WearGates.LooksRight(job, asking, read)),
        WearCheckEvent said => WearGates.Running(job, asking, said.Kind),
        FinalControlPassed passed => InTheHouse(job, asking)
            .Concat(InRoute(job, asking, Stage.FinalControl))
            .Concat(Needs(job, asking, Stage.FinalControl))
            .Concat(HoldGate(job, asking, Blocks.FinalControl))
            .Concat(SecondPerson(job, asking))
            .Concat(ChecksComplete(job, asking, passed)),
        FinalControlRefused refused => SendBack(job, asking, Stage.FinalControl, refused.To),
        VariantChanged changed => InTheHouse(job, asking)
            .Concat(VariantGates.MovementTogether(job, asking, changed)),
        QuoteSent => InTheHouse(job, asking)
            .Concat(job.Quotes.AnyAccepted ? [] : Needs(job, asking, Stage.Quote).Concat(Missing(job, asking, Stage.Quote))),
        QuoteAnswered answered => InTheHouse(job, asking)
            .Concat(NewestVersion(job, asking, answered))
            .Concat(DeciderThere(job, asking, answered)),
        QuotePriceChanged => InTheHouse(job, asking),
        ShipmentSent { Direction: ParcelDirection.ToCustomer } sent => (job.Standings.HandedOver ? [] : Needs(job, asking, Stage.HandedOver).Concat(HoldGate(job, asking, Blocks.HandOver)))
            .Concat(InsuredEnough(asking, sent)),
        JobHandedOver => InTheHouse(job, asking)
            .Concat(Needs(job, asking, Stage.HandedOver))
            .Concat(HoldGate(job, asking, Blocks.HandOver))
            .Concat(MoneyGates.AtTheDoor(job, asking))
            .Concat(PiecesHome(job, asking)),
        PromiseMoved { By: PromiseMover.Person } => InTheHouse(job, asking)
            .Concat(PromiseGates.Move(job, asking)),
        CageLoaded loaded => InTheHouse(job, asking)
            .Concat(GroupGates.Load(job, asking, loaded)),
        GroupDeclared => InTheHouse(job, asking),
        GroupHandCleaned cleaned => InTheHouse(job, asking)
            .Concat(GroupGates.End(job, asking, cleaned.Group, GroupState.HandCleaned)),
        GroupNotWashed not => InTheHouse(job, asking)
            .Concat(GroupGates.End(job, asking, not.Group, GroupState.NotWashed)),
        GroupReplaced replaced => InTheHouse(job, asking)
            .Concat(GroupGates.Known(job, asking, replaced.Group)),
        GroupInspected inspected => InTheHouse(job, asking)
            .Concat(GroupGates.Known(job, asking, inspected.Group))
            .Concat(GroupGates.Inspect(job, asking, inspected.Group)),
        CountRecorded count => GroupGates.Known(job, asking, count.Group),
        ToleranceExcepted excepted => InTheHouse(job, asking)
            .Concat(RateGates.Sign(job, asking, excepted)),
        LabelAttached attached => LabelGates.Attach(job, asking, attached),
        LabelReplaced replaced => LabelGates.Replace(job, asking, replaced),
        TrialDayRecorded told => TrialGates.Told(job, asking, told),
        _ => [],
    };

    /// <summary>The same again by the same person, or done already: accepted, and nothing changes.</summary>
    public static bool AlreadySo(Job job, WorkshopEvent one, string? person) => one switch
    {
        StageStarted started => job.Standings.Of(started.Stage) is { State: StageState.Running } standing && person is not null && standing.At.Contains(person),
        StageFinished finished => job.Standings.Of(finished.Stage).IsBehind,
        PolishConfirmed => job.Intake.PolishConfirmedAt is not null,
        CageLoaded loaded => job.Cages.Is(loaded),
        GroupEvent => GroupGates.AlreadySo(job, one),
        LabelAttached attached => (attached.Label == job.Label || job.Labels.Knows(attached.Label)) && job.Labels.PieceOf(attached.Label) == attached.Piece,
        TrialDayRecorded told => job.Trials.Find(told.Trial, told.Day)?.Says(told) == true,
        LabelReplaced replaced => job.Labels.ReplacementOf(replaced.Label)?.By == replaced.By,
        _ => false,
    };

    private static IEnumerable<Objection> Start(Job job, Asking asking, Stage stage)
    {
        if (InRoute(job, asking, stage).ToArray() is { Length: > 0 } notInRoute)
        {
            return notInRoute;
        }

        var standing = job.Standings.Of(stage);
        if (standing.IsBehind)
        {
            return
            [
                GateTable.Objects("not-yet-sent-back", asking.Rules, Phrase.Of("{0} is done; send it back first", stage), Phrase.Of("whoever sees why it must be done again"), names: [("stage", Word.Of(stage))]),
            ];
        }

        return AlreadySo(job, asking.Event, asking.Person) ? [] : NobodyElse(job, asking, stage).Concat(Begin(job, asking, stage));
    }

    private static IEnumerable<Objection> Finish(Job job, Asking asking, Stage stage)
    {
        if (AlreadySo(job, asking.Event, asking.Person))
        {
            return [];
        }

        if (InRoute(job, asking, stage).ToArray() is { Length: > 0 } notInRoute)
        {
            return notInRoute;
        }

        var facts = StageTable.Of(stage);
        if (facts.EndedBy != EndedBy.Told)
        {
            object by = facts.ResultOf is { } result ? result : Phrase.Of("a command of the desk");
            return
            [
                GateTable.Objects(
                    "finished-by-result", asking.Rules, Phrase.Of("{0} ends by {1}, not by saying so", stage, by), Phrase.Of("the bench that has the result"),
                    names: [("stage", Word.Of(stage)), ("event", by.ToString()!)]),
            ];
        }

        var running = job.Standings.Of(stage).State == StageState.Running;
        var rate = stage == Stage.Regulation ? RateSetSinceTouch(job, asking).Concat(RateGates.Finish(job, asking)).Concat(running ? VariantGates.AmplitudeForRegulation(job, asking) : []) : [];
        return InTheHouse(job, asking)
            .Concat(running ? Needs(job, asking, stage) : Begin(job, asking, stage))
            .Concat(rate)
            .Concat(TakedownGates.Finish(job, asking, stage))
            .Concat(stage switch
            {
                Stage.Takedown => GroupGates.EndTakedown(job, asking),
                Stage.Cleaning => GroupGates.EndCleaning(job, asking),
                Stage.ReserveAndFunctions => TestGates.FunctionsShown(job, asking),
                _ => [],
            });
    }

    /// <summary>What is asked when work on a stage begins; a finish without a start begins in the same moment.</summary>
    private static IEnumerable<Objection> Begin(Job job, Asking asking, Stage stage) =>
        Needs(job, asking, stage)
            .Concat(HoldGate(job, asking, IsWork(job, stage) ? Blocks.Starts | Blocks.Work : Blocks.Starts))
            .Concat(Missing(job, asking, stage))
            .Concat(stage == Stage.Takedown ? PartGates.EssentialParts(job, asking) : [])
            .Concat(MoneyGates.DepositHere(job, asking, stage))
            .Concat(stage == Stage.Regulation ? WearGates.NoRegulationOverAFault(job, asking).Concat(VariantGates.AmplitudeForRegulation(job, asking)) : []);

    private static IEnumerable<Objection> InRoute(Job job, Asking asking, Stage stage) =>
        job.Standings.InPlan(stage) is not null ? []
        : [VariantGates.NotInRoute(job, asking, stage)];

    private static IEnumerable<Objection> SendBack(Job job, Asking asking, Stage stage, Stage to)
    {
        var plan = job.Standings.Plan.Select(one => one.Stage).ToList();
        var earlier = plan.IndexOf(to) is >= 0 and var place && place < plan.IndexOf(stage);
        if (to != Stage.Diagnosis && !earlier)
        {
            return
            [
                GateTable.Objects("in-route", asking.Rules, Phrase.Of("{0} does not come before {1} here", to, stage), Phrase.Of("choose an earlier stage"), names: [("stage", Word.Of(stage)), ("to", Word.Of(to))]),
            ];
        }

        return to == Stage.Regulation ? WearGates.NoRegulationOverAFault(job, asking) : [];
    }

    private static IEnumerable<Objection> InTheHouse(Job job, Asking asking)
    {
        if (job.Standings.HandedOver)
        {
            yield return GateTable.Objects("handed-over", asking.Rules, Phrase.Of("The watch has been handed over"), Phrase.Of("the desk; a claim begins a new stay"));
        }
    }

    private static IEnumerable<Objection> Needs(Job job, Asking asking, Stage stage)
    {
        foreach (var need in job.Standings.InPlan(stage)?.Needs ?? [])
        {
            if (!job.Standings.Stands(need.Stage))
            {
                var line = job.Standings.Of(need.Stage).State switch
                {
                    StageState.Running => Phrase.Of("{0} is still being done", need.Stage),
                    StageState.Failed => Phrase.Of("{0} has failed", need.Stage),
                    StageState.Void => Phrase.Of("{0} must be done again", need.Stage),
                    StageState.GroundLost => Phrase.Of("{0} has lost its ground", need.Stage),
                    _ => Phrase.Of("{0} is not done", need.Stage),
                };
                yield return GateTable.Objects(
                    $"needs/{Word.Of(need.Stage)}", asking.Rules, line, Phrase.Of("whoever does it; a manager may waive it"),
                    need.Stop ? Strength.Stop : null, ("stage", Word.Of(stage)), ("missing", Word.Of(need.Stage)));
            }
        }
    }

    private static IEnumerable<Objection> NobodyElse(Job job, Asking asking, Stage stage)
    {
        var others = job.Standings.Of(stage).At.Where(one => one != asking.Person).ToArray();
        if (others.Length > 0)
        {
            yield return GateTable.Objects("nobody-else-at-it", asking.Rules, Phrase.Of("{0} is already at it", others[0]), Phrase.Of("ask each other"), names: [("who", string.Join(", ", others)), ("stage", Word.Of(stage))]);
        }
    }

    private static IEnumerable<Objection> HoldGate(Job job, Asking asking, Blocks blocks) =>
        job.Holds.Standing
            .Where(hold => (HoldTable.Of(hold.Reason).Blocks & blocks) != Blocks.Nothing)
            .Select(hold =>
            {
                // A legal hold is the managers' alone; everybody else is told of a query.
                var reason = hold.Reason == HoldReason.Legal && asking.Role != "manager" ? HoldReason.Query : hold.Reason;
                var shown = Word.Of(reason);
                var lifters = HoldTable.Of(hold.Reason).LiftedBy.Where(role => role != "service").Append("manager").Distinct().Select(role => new Term("role", role));
                return GateTable.Objects(
                    $"hold/{shown}", asking.Rules, Phrase.Of("Held: {0}", reason), Phrase.Of("{0}", new Series([.. lifters], AnyOne: true)),
                    names: [("hold", shown), ("since", hold.From.ToString())]);
            })
            .DistinctBy(one => one.Gate);

    private static IEnumerable<Objection> Missing(Job job, Asking asking, Stage stage) =>
        job.Intake.Missing.Where(one => one.NeededFor == stage).Select(one => one.Member == IntakeMember.PolishConfirmed
            ? GateTable.Objects("polish-confirmed", asking.Rules, Phrase.Of("Polish: the customer is asked again first"), Phrase.Of("whoever asks the customer; a manager may waive it"), names: [("stage", Word.Of(stage))])
            : GateTable.Objects(
                $"intake/{one.Member}", asking.Rules, Phrase.Of("The intake still lacks: {0}", new Term("intakeMember", one.Member)), Phrase.Of("the desk"),
                IntakeNeeds.StrengthOf(one.Member), ("member", one.Member), ("stage", Word.Of(stage))));

    private static IEnumerable<Objection> PolishWished(Job job, Asking asking)
    {
        if (job.Intake.Polish is PolishWish.No or PolishWish.Ask)
        {
            yield return GateTable.Objects("polish-confirmed", asking.Rules, Phrase.Of("No polish is wished for; the desk asks first"), Phrase.Of("the desk, by writing down the wish"), names: [("polish", Word.Of(job.Intake.Polish.Value))]);
        }
    }

    private static IEnumerable<Objection> RateSetSinceTouch(Job job, Asking asking)
    {
        if (!job.Timekeeping.MeasuredSince(job.Standings.Of(Stage.Rebuild) is { State: StageState.Done or StageState.GroundLost, Since: { } rebuilt } ? rebuilt : null))
        {
            yield return GateTable.Objects("rate-set-since-touch", asking.Rules, Phrase.Of("No rate set since the last touch or rebuild"), Phrase.Of("measure a set, then finish"));
        }
    }

    private static IEnumerable<Objection> PiecesTogether(Job job, Asking asking)
    {
        foreach (var piece in job.Pieces.Pieces.Where(piece => piece.Kind is PieceKind.Movement or PieceKind.Case or PieceKind.DialAndHands))
        {
            if (!piece.IsHome || piece.GivenTo is not null)
            {
                var line = piece.IsHome ? Phrase.Of("{0}: given to {1} and not taken", piece.Term, piece.GivenTo!) : Phrase.Of("{0}: with {1}", piece.Term, piece.Holder);
                yield return GateTable.Objects("pieces-together", asking.Rules, line, Phrase.Of("whoever has it; a manager may waive it"), names: [("piece", piece.Id), ("holder", piece.Holder)]);
            }
        }
    }

    private static IEnumerable<Objection> OneHolder(Job job, Asking asking, PieceTaken taken)
    {
        var meant = job.Pieces.Meant(taken);
        if (meant.IsEmpty)
        {
            yield return GateTable.Objects("one-holder", asking.Rules, Phrase.Of("Which piece? The job has none or several of it"), Phrase.Of("name the piece by its label"), names: [("piece", taken.Piece ?? (taken.Kind is { } kind ? Word.Of(kind) : ""))]);
        }

        foreach (var piece in meant.Where(piece => !PieceLedger.MayTake(piece, taken, asking.Person, asking.Bench)))
        {
            yield return GateTable.Objects(
                "one-holder", asking.Rules, Phrase.Of("{0} is with {1}", piece.Term, piece.Holder), Phrase.Of("{0}", piece.Holder),
                names: [("piece", piece.Id), ("holder", piece.Holder), ("since", piece.Since.ToString())]);
        }
    }

    // Nobody counts links in a parcel that is only put down.
    private static IEnumerable<Objection> PieceByPiece(Job job, Asking asking, PieceEvent back)
    {
        var noted = job.Pieces.Meant(back).Where(piece => piece is { IsWithFirm: true, Note: not null }).ToArray();
        if (noted.Length > 1)
        {
            yield return GateTable.Objects(
                "piece-by-piece", asking.Rules, Phrase.Of("{0} pieces went with note {1}: count each in", noted.Length, noted[0].Note!), Phrase.Of("take each piece by its kind or label, with its number"),
                names: [("note", noted[0].Note!), ("holder", noted[0].Holder), ("pieces", string.Join(", ", noted.Select(piece => piece.Id)))]);
        }
    }

    private static IEnumerable<Objection> SecondPerson(Job job, Asking asking)
    {
        if (asking.Rules.SecondPersonAtFinalControl && asking.Person is { } person && job.Standings.Of(Stage.Rebuild).Hands.Contains(person))
        {
            yield return GateTable.Objects("second-person", asking.Rules, Phrase.Of("Whoever rebuilt it does not control it"), Phrase.Of("a second person; a manager may waive it"), names: [("person", person)]);
        }
    }

    private static IEnumerable<Objection> ChecksComplete(Job job, Asking asking, FinalControlPassed passed)
    {
        var results = passed.Checks.GroupBy(check => check.Check).ToDictionary(group => group.Key, group => group.Last());
        var open = (job.Route?.FinalChecks ?? []).Where(check => !results.ContainsKey(check)).ToArray();
        if (open.Length > 0)
        {
            yield return GateTable.Objects("checks-complete", asking.Rules, Phrase.Of("{0} checks have no result", open.Length), Phrase.Of("look at each"), names: [("missing", string.Join(", ", open))]);
        }

        foreach (var exception in passed.Checks.Where(check => check.Result == CheckResult.Exception && asking.Rules.PersonBehind(check.By)?.Manager != true))
        {
            yield return GateTable.Objects("checks-complete", asking.Rules, Phrase.Of("The exception at {0} names no manager", new Term("finalCheck", exception.Check)), Phrase.Of("a manager"), names: [("check", exception.Check)]);
        }
    }

    private static IEnumerable<Objection> PiecesHome(Job job, Asking asking) =>
        job.Pieces.Pieces.Where(piece => piece.Holder.StartsWith("firms/", StringComparison.Ordinal)).Select(piece => GateTable.Objects(
            "pieces-home", asking.Rules, Phrase.Of("{0} is still with {1}", piece.Term, piece.Holder), Phrase.Of("fetch it, or hand over the rest"), names: [("piece", piece.Id), ("holder", piece.Holder)]));

    private static IEnumerable<Objection> InsuredEnough(Asking asking, ShipmentSent sent)
    {
        var insured = Math.Min(sent.InsuredMinor ?? 0, sent.CarrierInsuresMinor ?? long.MaxValue);
        if (sent.DeclaredMinor is { } declared && insured < declared)
        {
            yield return GateTable.Objects(
                "insured-enough", asking.Rules, Phrase.Of("Insured for {0}, declared at {1}", Amount.Said(insured, sent.Currency), Amount.Said(declared, sent.Currency)),
                Phrase.Of("insure it for more, send it otherwise or in two parcels; despite goes on"),
                names: [("insuredMinor", $"{insured}"), ("declaredMinor", $"{declared}"), ("currency", sent.Currency ?? "")]);
        }
    }

    private static IEnumerable<Objection> NewestVersion(Job job, Asking asking, QuoteAnswered answered)
    {
        if (job.Quotes.Newest is { } last && last.Version == answered.Version && !job.Quotes.IsForThisKind(last))
        {
            yield return GateTable.Objects("quote-newest", asking.Rules, Phrase.Of("Version {0} was for another kind of work", answered.Version), Phrase.Of("send a new version"), names: [("variant", job.Intake.Variant)]);
        }
        else if (job.Quotes.Newest is not { } newest || newest.Version != answered.Version)
        {
            object shown = job.Quotes.Newest is { } one ? one.Version : Phrase.Of("none");
            yield return GateTable.Objects("quote-newest", asking.Rules, Phrase.Of("Version {0} is not the newest; {1} is", answered.Version, shown), Phrase.Of("show the newest version"), names: [("newest", shown.ToString()!)]);
        }
    }

    // Whoever has died agrees to nothing any more, whoever brings the word.
    private static IEnumerable<Objection> DeciderThere(Job job, Asking asking, QuoteAnswered answered)
    {
        if (answered.Accepted && job.Parties.IsDeceased(job.Parties.Decides))
        {
            yield return GateTable.Objects("decider-there", asking.Rules, Phrase.Of("Whoever decided has died"), Phrase.Of("write down who decides now, then answer again"));
        }
    }

    private static bool IsWork(Job job, Stage stage) => job.Standings.InPlan(stage) is { Branch: Branch.Movement or Branch.Case or Branch.Assembly };
}
