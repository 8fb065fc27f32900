using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Holds;
using Workshop.Core.Notes;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Timekeeping;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Service.Features.BenchEvents;

namespace Workshop.Service.Demo;

/// <summary>The forty watches that are, or were, in the demo's house: every stage of both kinds of work, and what can come between.</summary>
internal sealed class DemoLives(ShopRules rules, DemoDays days)
{
    private const string Watchmaker = DemoTown.FirstWatchmaker;
    private const string Polisher = DemoTown.Polisher;
    private const string SecondEyes = DemoTown.SecondEyes;
    private const string Desk = DemoTown.Desk;
    private const string Manager = DemoTown.Manager;

    private int number;

    /// <summary>All forty, each with its diary; the list is the same for the same day.</summary>
    public IReadOnlyList<DemoLife> All() =>
    [
        .. AtTheFront(),
        .. AtTheMovement(),
        .. AtTheCase(),
        .. PutTogether(),
        .. Leaving(),
        .. Gone(),
    ];

    private IEnumerable<DemoLife> AtTheFront()
    {
        yield return Automatic("Stops in the night, starts when shaken.", valueDeclared: false).Until(Stage.Diagnosis, begun: false, endsOn: 0);
        yield return New("full-chronograph", DemoTown.OldChronograph, "My grandfather's, has lain in a drawer for thirty years. Please be gentle.")
            .Until(Stage.Diagnosis, begun: true, endsOn: 1);
        yield return RunningOut(Automatic("Gains a few minutes a week since last summer."));
        yield return Chronograph("The stopwatch hand does not return to twelve.").Until(Stage.Quote, begun: false, endsOn: 1);
        yield return Automatic("Due for a service, runs well.").Until(Stage.Queue, begun: false, endsOn: 2);
        var waiting = Chronograph("The upper pusher has no click any more.").Until(Stage.Queue, begun: false, endsOn: 3).After(Duration.FromHours(2));

        // The day has slipped once already: the forecast has moved with it, the promise has not.
        yield return waiting.Say(Desk, new HoldPlaced { Hold = HoldReason.Parts, Reason = "pusher spring ordered", Until = days.Today.PlusDays(4) })
            .AtTheDesk((desk, life) => desk.OrderPart(life, "demo-po-17", DemoStock.PusherSpring, days.Today.PlusDays(2)))
            .After(Duration.FromHours(1))
            .AtTheDesk((desk, life) => desk.OrderPart(life, "demo-po-17", DemoStock.PusherSpring, days.Today.PlusDays(4)));
    }

    // Unanswered for almost as long as it is valid: it runs out tomorrow.
    private DemoLife RunningOut(DemoLife life) =>
        life.Until(Stage.Quote, begun: false, endsOn: 20).After(Duration.FromHours(1)).SendQuote(validThrough: days.Today.PlusDays(1));

    private IEnumerable<DemoLife> AtTheMovement()
    {
        yield return Automatic("Winds roughly, one hears it.").Until(Stage.Takedown, begun: true, endsOn: 0);
        yield return Chronograph("Loses ten minutes a day when the stopwatch runs.").Until(Stage.Takedown, begun: true, endsOn: 1);
        yield return Chronograph("Was dropped on tiles, now silent.").Until(Stage.Cleaning, begun: true, endsOn: 0);
        yield return Automatic("The date jumps at lunch time.").Until(Stage.Inspection, begun: true, endsOn: 1);
        yield return Chronograph("Runs, but never for a whole day.").Until(Stage.Inspection, begun: false, endsOn: 3).After(Duration.FromMinutes(50))
            .Say(Watchmaker, new HoldPlaced { Hold = HoldReason.Parts, Reason = "minute counter wheel ordered, two teeth are bent" })
            .AtTheDesk((desk, life) => desk.OrderPart(life, "demo-po-16", DemoStock.CounterWheel, days.Today.PlusDays(-1)));
        yield return Automatic("Last service in another town, twelve years ago.").Until(Stage.Rebuild, begun: true, endsOn: 1);
        var more = Chronograph("Crown came off in the hand.").Until(Stage.Rebuild, begun: true, endsOn: 2).After(Duration.FromHours(1));
        yield return more.AtTheDesk((desk, life) => desk.SendSupplement(life));
        yield return Automatic("Loud rotor.").Until(Stage.Regulation, begun: false, endsOn: 2).After(Duration.FromMinutes(40))
            .Say(Desk, new HoldPlaced { Hold = HoldReason.Person, Reason = "Jorid is away until the day after tomorrow", Until = days.Today.PlusDays(2) });
        yield return FailedOnce(Chronograph("Keeps bad time on the wrist, good time in the drawer."));
    }

    private DemoLife FailedOnce(DemoLife life) => life.Until(Stage.WearCheck, begun: true, endsOn: 4)
        .ReadAfterWear(ratePerDaySeconds: 16)
        .After(Duration.FromMinutes(30))
        .Say(life.Watchmaker, new CaseOpened { Reason = "to regulate" })
        .SendBack(life.Watchmaker, Stage.WearCheck, Stage.Regulation, "gained 16 s a day on the winder")
        .Say(life.Watchmaker, new IndexTouched())
        .Say(life.Watchmaker, new StageStarted { Stage = Stage.Regulation });

    private IEnumerable<DemoLife> AtTheCase()
    {
        var forgotten = Automatic("Scratches all over, please polish.").Until(Stage.CaseStrip, begun: false, endsOn: 3).After(Duration.FromHours(3));

        // The polisher forgot to say that the case was stripped, and tells the next step two hours late: it waits for a manager.
        yield return forgotten.Say(
            Polisher, new StageFinished { Stage = Stage.CaseWork }, happened: forgotten.Steps[^1].At + Duration.FromMinutes(30), expected: EventOutcome.Noted);
        yield return Chronograph("A lug is bent, it fell from a bicycle.").Until(Stage.CaseStrip, begun: true, endsOn: 1);
        var plated = Automatic("The gilding of the case has worn through.").Until(Stage.CaseWork, begun: true, endsOn: 19).After(Duration.FromHours(1));
        yield return plated
            .Say(Polisher, new PieceGiven { Kind = PieceKind.Case, To = "firms/demo-gilders", ExpectedBack = days.Today.PlusDays(6), Note = "DEMO-LS 204", InsuredMinor = 200_000, Currency = "CHF" })
            .Say(Polisher, new HoldPlaced { Hold = HoldReason.OutsideFirm, Reason = "case is being gilded", Until = days.Today.PlusDays(6) });
        yield return Chronograph("Crystal cracked.").Until(Stage.CaseWork, begun: true, endsOn: 0);
        yield return Automatic("Went swimming with it, a little mist inside.").Until(Stage.Gaskets, begun: true, endsOn: 0);
    }

    private IEnumerable<DemoLife> PutTogether()
    {
        var chosen = Automatic("Would like other hands, if there are any.").Until(Stage.DialAndHands, begun: false, endsOn: 3).After(Duration.FromHours(1));
        yield return chosen.Say(Desk, new HoldPlaced { Hold = HoldReason.Customer, Reason = "chooses hands from three pairs" });
        var marked = Chronograph("One hand points into the void.").Until(Stage.DialAndHands, begun: true, endsOn: 1).After(Duration.FromMinutes(25));
        yield return marked.Say(
            marked.Watchmaker, new DamageSeen { System = "dial-side", Part = "dial", Condition = "a mark beside the date window, seen under the glass", Severity = Severity.Should });

        var one = Automatic("My daily watch, please hurry.").Until(Stage.Casing, begun: true, endsOn: 1);
        var other = Chronograph("Same as last time: a service.").Until(Stage.Casing, begun: false, endsOn: 2);
        yield return MixedUp(one, other);
        yield return other;

        var leaks = Chronograph("Is it still tight? I dive with it.").Until(Stage.WaterTest, begun: true, endsOn: 1).After(Duration.FromMinutes(20));
        yield return leaks.Say(SecondEyes, new WaterTestRecorded { Method = WaterTestMethod.Dry, PressureBar = 6, HoldSeconds = 90, DeformationMicrometres = 0, Passed = false });

        yield return DueToday(Automatic("Stopped on a journey."));
        yield return Paused(Chronograph("Only runs when worn."));
        yield return Automatic("A gift, please make it run again.").Until(Stage.WearCheck, begun: true, endsOn: 3)
            .At(days.On(1, new LocalTime(12, 45))).AtTheDesk((desk, _) => desk.CountTheSafe());
        var stopped = Automatic("Stands still at one in the morning.").Until(Stage.WearCheck, begun: true, endsOn: 3);
        yield return stopped.At(days.On(1, new LocalTime(9, 40)))
            .Say(SecondEyes, new WearCheckRead { Kind = WearCheckKind.Worn, Stopped = true, ShownTime = "01:07", Place = WearPlace.Winder, Reference = TimeReference.Server })
            .After(Duration.FromMinutes(20))
            .SendBack(SecondEyes, Stage.WearCheck, Stage.Diagnosis, "stood still at seven minutes past one, like before");
        yield return Chronograph("The hour counter hangs.").Until(Stage.ReserveAndFunctions, begun: true, endsOn: 0);
    }

    // The case of another watch lies on the same bench: its number is read, the closing refused, and both jobs are held.
    private static DemoLife MixedUp(DemoLife life, DemoLife other) => life.After(Duration.FromMinutes(45)).Say(
        life.Watchmaker, job => new CaseClosed { JobLabel = job.ToString(), CaseSerial = other.CaseSerial, MovementNumber = life.MovementNumber }, expected: EventOutcome.Refused);

    private DemoLife DueToday(DemoLife life) =>
        life.Until(Stage.WearCheck, begun: false, endsOn: 2).At(days.BeforeClosing(1, Duration.FromMinutes(45))).StartWearing();

    private DemoLife Paused(DemoLife life) => life.Until(Stage.WearCheck, begun: false, endsOn: 3)
        .At(days.BeforeClosing(2, Duration.FromMinutes(60)))
        .StartWearing()
        .At(days.On(1, new LocalTime(9, 20)))
        .Say(SecondEyes, new WearCheckPaused { Kind = WearCheckKind.Worn, Reason = "the winder is needed for a while" });

    private IEnumerable<DemoLife> Leaving()
    {
        yield return OpenedUnseen(Automatic("Please check whether it is still under guarantee elsewhere."));
        yield return Chronograph("Runs a little fast.").Until(Stage.FinalControl, begun: false, endsOn: 1);
        yield return Automatic("For my son's birthday.").Until(Stage.Settlement, begun: false, endsOn: 1);
        yield return AskedBetween(Automatic("Please ring before you post it."));
        yield return Chronograph("The bracelet pulls hairs; otherwise fine.").Until(Stage.HandedOver, begun: false, endsOn: 5);
        yield return Chronograph("What would it cost?").Until(Stage.Quote, begun: true, endsOn: 3).After(Duration.FromHours(5))
            .AtTheDesk((desk, life) => desk.AnswerQuote(life, version: 1, accepted: false));
    }

    // While the customer made up her mind the promise stood still; it moved when she had.
    private DemoLife AskedBetween(DemoLife life) => life.Until(Stage.DialAndHands, begun: false, endsOn: 12)
        .After(Duration.FromHours(1))
        .Say(Desk, new HoldPlaced { Hold = HoldReason.Customer, Reason = "asked whether the old hands shall stay" })
        .At(days.On(8, new LocalTime(11, 30)))
        .Say(Desk, new HoldLifted { Hold = HoldReason.Customer, Reason = "they stay" })
        .Again(Stage.DialAndHands).Again(Stage.Casing).Again(Stage.WaterTest).Again(Stage.WearCheck).Again(Stage.ReserveAndFunctions).Again(Stage.FinalControl)
        .Again(Stage.Settlement);

    // A tablet that had no network tells today that the case was opened before the final control: what stood on it has lost its ground.
    private DemoLife OpenedUnseen(DemoLife life)
    {
        life.Until(Stage.Settlement, begun: false, endsOn: 2);
        var control = life.Steps[^1].At;
        return life.At(days.BeforeClosing(1, Duration.FromMinutes(50)))
            .Say(life.Watchmaker, new CaseOpened { Reason = "a fibre under the glass" }, happened: control - Duration.FromMinutes(90));
    }

    private IEnumerable<DemoLife> Gone()
    {
        var covered = Automatic("Loses time.").Until(Stage.HandedOver, begun: false, endsOn: 38).Again(Stage.HandedOver);
        yield return covered
            .At(days.On(22, new LocalTime(10, 15))).AtTheDesk((desk, life) => desk.ReportClaim(life, "Stopped twice since it came back.", here: true))
            .At(days.On(21, new LocalTime(11, 0))).AtTheDesk((desk, life) => desk.DecideClaim(life, covered: true, "a screw of the automatic bridge had come loose"))
            .At(days.On(12, new LocalTime(16, 10))).AtTheDesk((desk, life) => desk.RecordStay(life, receivedOn: days.OpenDay(22), returnedOn: days.OpenDay(12)));

        var refused = Chronograph("Dead since the beach.").Until(Stage.HandedOver, begun: false, endsOn: 30).Again(Stage.HandedOver);
        yield return refused
            .At(days.On(14, new LocalTime(14, 30))).AtTheDesk((desk, life) => desk.ReportClaim(life, "Mist under the glass again.", here: true))
            .At(days.On(13, new LocalTime(10, 40))).AtTheDesk((desk, life) => desk.DecideClaim(life, covered: false, "the crown had been left unscrewed; no fault of the work"));

        yield return Chronograph("Reset does not reset.").Until(Stage.HandedOver, begun: false, endsOn: 9).Again(Stage.HandedOver)
            .At(days.On(1, new LocalTime(12, 5))).AtTheDesk((desk, life) => desk.ReportClaim(life, "The minute counter jumps late.", here: false));

        var unrepaired = Automatic("If it is not too much.").Until(Stage.Quote, begun: true, endsOn: 12).After(Duration.FromHours(6));
        yield return unrepaired
            .AtTheDesk((desk, life) => desk.AnswerQuote(life, version: 1, accepted: false))
            .At(days.On(9, new LocalTime(11, 20))).Say(Desk, new StageFinished { Stage = Stage.ReturnUnrepaired })
            .At(days.On(8, new LocalTime(15, 0))).AtTheDesk((desk, life) => desk.HandOver(life));
    }

    private DemoLife Automatic(string words, bool valueDeclared = true) =>
        New("full-automatic", DemoTown.Automatics[number % DemoTown.Automatics.Length], words, valueDeclared);

    private DemoLife Chronograph(string words) => New("full-chronograph", DemoTown.Chronographs[number % DemoTown.Chronographs.Length], words);

    private DemoLife New(string variant, DemoModel model, string words, bool valueDeclared = true) =>
        new(++number, rules.Routes[variant], model, words, days) { ValueDeclared = valueDeclared };
}
