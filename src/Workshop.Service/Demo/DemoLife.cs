using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.FinalControls;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Notes;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.WaterTests;
using Workshop.Service.Features.BenchEvents;

namespace Workshop.Service.Demo;

/// <summary>
/// One watch's life in the demo, written as a diary: a hand moves along the workshop's calendar and each thing that happens is noted with
/// its moment. What chance decides comes from a seed, so that the same day gives the same diary.
/// </summary>
internal sealed partial class DemoLife
{
    /// <summary>All that chance decides in a demo comes from here.</summary>
    public const int Seed = 20_260_301;

    private const int MostTries = 60;

    /// <summary>The order in which the demo's house works; case and movement go side by side.</summary>
    private static readonly ImmutableArray<Stage> Usual =
    [
        Stage.Diagnosis, Stage.Quote, Stage.Takedown, Stage.CaseStrip, Stage.Cleaning, Stage.Inspection, Stage.CaseWork, Stage.Rebuild, Stage.Gaskets,
        Stage.Regulation, Stage.DialAndHands, Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.ReserveAndFunctions, Stage.FinalControl, Stage.Settlement,
        Stage.HandedOver,
    ];

    private readonly DemoDays days;
    private readonly List<DemoStep> steps = [];
    private Random chance;
    private Instant hand;
    private Label? label;

    public DemoLife(int number, RouteDefinition route, DemoModel model, string words, DemoDays days)
    {
        Number = number;
        Route = route;
        Model = model;
        Words = words;
        this.days = days;
        chance = new Random(Seed + number);
        Watchmaker = number % 2 == 0 ? DemoTown.FirstWatchmaker : DemoTown.SecondWatchmaker;
    }

    /// <summary>1, 2, 3 … in the demo's list.</summary>
    public int Number { get; }

    public RouteDefinition Route { get; }

    public DemoModel Model { get; }

    /// <summary>What the customer said at the counter.</summary>
    public string Words { get; }

    /// <summary>Who takes the movement down and rebuilds it.</summary>
    public string Watchmaker { get; }

    /// <summary>False where the customer has not yet said what the watch is worth.</summary>
    public bool ValueDeclared { get; init; } = true;

    public string CaseSerial => $"DEMO-{Model.Maker[0]}{70_000 + 137 * Number}";

    public string MovementNumber => $"DEMO-{210_000 + 71 * Number}";

    /// <summary>Known from the moment at which the watch was taken in.</summary>
    public Label Label
    {
        get => label ?? throw new InvalidOperationException($"Life {Number} of the demo has not begun.");
        set => label = value;
    }

    public IReadOnlyList<DemoStep> Steps => steps;

    /// <summary>Lives the usual course up to a stage.</summary>
    /// <param name="begun">Somebody is at that stage.</param>
    /// <param name="endsOn">Open days before today on which the last of it happens, or earlier.</param>
    public DemoLife Until(Stage stage, bool begun, int endsOn)
    {
        var legs = Usual.Where(leg => ComesBefore(leg, stage)).ToArray();
        var limit = days.BeforeClosing(endsOn, Duration.FromMinutes(40));
        for (var earlier = 0; earlier < MostTries; earlier++)
        {
            steps.Clear();
            chance = new Random(Seed + Number);
            hand = days.On(endsOn + 1 + earlier, new LocalTime(9, 5)) + Minutes(5, 50);
            TakeIn();
            foreach (var leg in legs)
            {
                Go(leg, end: true);
            }

            if (begun)
            {
                Go(stage, end: false);
            }

            if (steps[^1].At <= limit)
            {
                return this;
            }
        }

        throw new InvalidOperationException($"Life {Number} of the demo does not fit before {limit}.");
    }

    /// <summary>Moves the hand to a moment; what follows happens then.</summary>
    public DemoLife At(Instant moment)
    {
        if (steps.Count > 0 && moment < steps[^1].At)
        {
            throw new InvalidOperationException($"Life {Number} of the demo is at {steps[^1].At} already, later than {moment}.");
        }

        hand = moment;
        return this;
    }

    /// <summary>Moves the hand to the next open minute after a while.</summary>
    public DemoLife After(Duration while_)
    {
        hand = days.NextOpening(hand + while_);
        return this;
    }

    public DemoLife Say(
        string person, WorkshopEvent one, Instant? happened = null, EventOutcome expected = EventOutcome.Accepted, params ImmutableArray<string> despite) =>
        Say(person, _ => one, happened, expected, despite);

    public DemoLife Say(
        string person, Func<Label, WorkshopEvent> one, Instant? happened = null, EventOutcome expected = EventOutcome.Accepted, ImmutableArray<string>? despite = null)
    {
        steps.Add(new SaidStep(hand, this, DemoPlace.Of(person), one) { Person = person, Happened = happened, Expected = expected, Despite = despite ?? [] });
        hand += Duration.FromMinutes(1);
        return this;
    }

    public DemoLife AtTheDesk(Action<DemoDesk, DemoLife> act)
    {
        steps.Add(new DeskStep(hand, this, act));
        hand += Duration.FromMinutes(2);
        return this;
    }

    /// <summary>Goes through a stage once more, from beginning to end.</summary>
    public DemoLife Again(Stage stage)
    {
        Go(stage, end: true);
        return this;
    }

    public DemoLife Begin(Stage stage)
    {
        Go(stage, end: false);
        return this;
    }

    private static bool ComesBefore(Stage leg, Stage stage) => stage switch
    {
        Stage.Queue => leg is Stage.Diagnosis or Stage.Quote,

        // A case that waits for its stage lags behind a movement that is through with its own.
        Stage.CaseStrip or Stage.CaseWork or Stage.Gaskets => leg < Stage.CaseStrip || (leg <= Stage.Gaskets && leg < stage),
        _ => Usual.IndexOf(leg) < Usual.IndexOf(stage),
    };

    private void TakeIn() => AtTheDesk((desk, life) => desk.TakeIn(life));

    private void Go(Stage stage, bool end)
    {
        var work = Duration.FromMinutes(Route.Find(stage)?.Minutes ?? 10);
        if (steps.Count > 0)
        {
            var (least, most) = DaysBefore(stage);
            var wait = chance.Next(least, most + 1);
            hand = days.Fitting(wait == 0 ? hand + Minutes(15, 45) : days.OpeningAfter(hand, wait) + Minutes(5, 60), work);
        }

        switch (stage)
        {
            case Stage.Quote:
                SendQuote();
                if (end)
                {
                    hand = days.OpeningAfter(hand, chance.Next(1, 4)) + Minutes(20, 300);
                    AtTheDesk((desk, life) => desk.AnswerQuote(life, version: 1, accepted: true));
                }

                break;
            case Stage.Casing:
                Say(Watchmaker, new StageStarted { Stage = stage });
                hand += Around(work);
                if (end)
                {
                    GiveCaseBack();
                    Say(Watchmaker, Closing);
                }

                break;
            case Stage.WaterTest:
                Say(DemoTown.SecondEyes, new StageStarted { Stage = stage });
                hand += Around(work);
                if (end)
                {
                    Say(DemoTown.SecondEyes, new WaterTestRecorded
                    {
                        Method = WaterTestMethod.Dry,
                        PressureBar = Model.WaterBar ?? 1,
                        HoldSeconds = 120,
                        DeformationMicrometres = chance.Next(3, 12),
                        Passed = true,
                    });
                }

                break;
            case Stage.WearCheck:
                StartWearing();
                if (end)
                {
                    ReadAfterWear(ratePerDaySeconds: chance.Next(2, 7));
                }

                break;
            case Stage.FinalControl:
                GiveAll(Watchmaker, DemoTown.SecondEyes);
                Say(DemoTown.SecondEyes, new StageStarted { Stage = stage });
                hand += Around(work);
                if (end)
                {
                    Say(DemoTown.SecondEyes, new FinalControlPassed { Checks = [.. Route.FinalChecks.Select(check => new FinalCheck(check, CheckResult.Ok))] });
                    Say(DemoTown.SecondEyes, new PiecePut { To = "places/safe" });
                }

                break;
            case Stage.Settlement:
                Say(DemoTown.Desk, new StageFinished { Stage = stage });
                break;
            case Stage.HandedOver:
                AtTheDesk((desk, life) => desk.HandOver(life));
                break;
            default:
                GoTold(stage, work, end);
                break;
        }
    }

    private void GoTold(Stage stage, Duration work, bool end)
    {
        var person = WhoDoes(stage);
        if (stage == Stage.Takedown)
        {
            Say(person, new PieceTaken());
        }
        else if (stage == Stage.CaseStrip)
        {
            Say(Watchmaker, new PieceGiven { Kind = PieceKind.Case, To = $"people/{person}" });
            Say(person, new PieceTaken { Kind = PieceKind.Case });
        }

        Say(person, new StageStarted { Stage = stage });
        hand += Around(work);
        if (!end)
        {
            return;
        }

        if (RemarkAt(stage) is { } remark)
        {
            Say(person, new NoteWritten { Text = remark, Audience = Audience.House });
        }

        if (stage == Stage.Regulation)
        {
            Measure(mean: chance.Next(1, 6), cased: false);
        }

        if (stage == Stage.Takedown && !cameApart)
        {
            cameApart = true;
            ComeApart(person);
        }
        else if (stage == Stage.Cleaning && cameApart && !wasCleaned)
        {
            wasCleaned = true;
            CleanByHand(person);
        }

        Say(person, new StageFinished { Stage = stage });
    }

    private string WhoDoes(Stage stage) => stage switch
    {
        Stage.CaseStrip or Stage.CaseWork or Stage.Gaskets => DemoTown.Polisher,
        Stage.WaterTest or Stage.FinalControl or Stage.ReserveAndFunctions => DemoTown.SecondEyes,
        _ => Watchmaker,
    };

    /// <summary>Open days that usually pass before a stage begins.</summary>
    private static (int Least, int Most) DaysBefore(Stage stage) => stage switch
    {
        Stage.Diagnosis => (1, 2),
        Stage.Quote => (0, 1),
        Stage.Takedown => (2, 4),
        Stage.CaseWork or Stage.Regulation => (1, 1),
        Stage.Rebuild => (1, 2),
        Stage.Casing or Stage.WaterTest or Stage.WearCheck or Stage.Settlement => (0, 0),
        Stage.HandedOver => (1, 3),
        _ => (0, 1),
    };

    private Duration Minutes(int least, int most) => Duration.FromMinutes(chance.Next(least, most + 1));

    private Duration Around(Duration work) => Duration.FromMinutes((int)work.TotalMinutes * chance.Next(80, 101) / 100);
}
