using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;

namespace Workshop.Service.Demo;

/// <summary>Single moments in a watch's life, as the usual course and the unusual ones need them.</summary>
internal sealed partial class DemoLife
{
    private decimal offsetAtStart;
    private Instant wornSince;

    /// <summary>The watch is closed; the three numbers are read.</summary>
    public WorkshopEvent Closing(Label job) => new CaseClosed { JobLabel = job.ToString(), CaseSerial = CaseSerial, MovementNumber = MovementNumber };

    public DemoLife SendQuote(LocalDate? validThrough = null) => AtTheDesk((desk, life) => desk.SendQuote(life, validThrough));

    public DemoLife StartWearing()
    {
        offsetAtStart = chance.Next(-1, 3);
        wornSince = hand;
        return Say(DemoTown.SecondEyes, new WearCheckStarted
        {
            Kind = WearCheckKind.Worn,
            OffsetSeconds = offsetAtStart,
            FullyWound = true,
            Place = WearPlace.Winder,
            Reference = TimeReference.Server,
            ReadBy = ReadBy.Eye,
        });
    }

    /// <summary>Read at the first open minute after a full day.</summary>
    public DemoLife ReadAfterWear(int ratePerDaySeconds)
    {
        hand = days.NextOpening(wornSince + Duration.FromHours(24) + Duration.FromMinutes(5)) + Minutes(2, 20);
        var drift = Math.Round(ratePerDaySeconds * (decimal)((hand - wornSince) / Duration.FromDays(1)), MidpointRounding.AwayFromZero);
        return Say(DemoTown.SecondEyes, new WearCheckRead
        {
            Kind = WearCheckKind.Worn,
            OffsetSeconds = offsetAtStart + drift,
            Place = WearPlace.Winder,
            Reference = TimeReference.Server,
            ReadBy = ReadBy.Eye,
            DateJumped = Model.Calibre.Calendar ? true : null,
            HandsAligned = true,
            Mist = false,
        });
    }

    /// <summary>A set of six positions around a mean.</summary>
    public DemoLife Measure(int mean, bool cased) => Say(Watchmaker, new RateSetRecorded
    {
        WindState = WindState.Full,
        HoursSinceFullWind = 0.5m,
        LiftAngleDegrees = Model.Calibre.LiftAngleDegrees,
        VibrationsPerHour = Model.Calibre.VibrationsPerHour,
        Readings =
        [
            new(Position.DialUp, mean + 1, chance.Next(282, 300), 0.1m),
            new(Position.DialDown, mean + 2, chance.Next(280, 298), 0.1m),
            new(Position.CrownUp, mean + chance.Next(0, 4), chance.Next(252, 268), 0.2m),
            new(Position.CrownDown, mean - chance.Next(1, 5), chance.Next(250, 266), 0.2m),
            new(Position.CrownLeft, mean - chance.Next(0, 3), chance.Next(252, 268), 0.2m),
            new(Position.CrownRight, mean + chance.Next(0, 3), chance.Next(250, 266), 0.2m),
        ],
        Cased = cased,
        SettleSeconds = 20,
        SampleSeconds = 40,
    });

    public DemoLife SendBack(string person, Stage from, Stage to, string reason) => Say(person, new StageSentBack { Stage = from, To = to, Reason = reason });

    /// <summary>The polisher brings the case back to the movement.</summary>
    private void GiveCaseBack()
    {
        Say(DemoTown.Polisher, new PieceGiven { Kind = PieceKind.Case, To = $"people/{Watchmaker}" });
        Say(Watchmaker, new PieceTaken { Kind = PieceKind.Case });
    }

    private void GiveAll(string from, string to)
    {
        Say(from, new PieceGiven { To = $"people/{to}" });
        Say(to, new PieceTaken());
    }

    private string? RemarkAt(Stage stage) => stage switch
    {
        Stage.Diagnosis => Findings[chance.Next(Findings.Length)],
        Stage.Inspection => Inspected[chance.Next(Inspected.Length)],
        Stage.Rebuild when chance.Next(3) == 0 => "Runs freely in all positions before the automatic works go on.",
        _ => null,
    };

    private static readonly string[] Findings =
    [
        "Oil has dried up at the barrel; the train turns heavily.",
        "Amplitude drops by half when the crown points down; the lower balance pivot wants a look.",
        "The rotor's bearing has play and marks the back.",
        "Somebody was here before: two screws of the train bridge have changed places.",
        "The date starts to move at ten and hangs until the small hours.",
        "The crown no longer screws home; its tube is worn.",
    ];

    private static readonly string[] Inspected =
    [
        "All pivots bright; the third wheel's upper jewel has a chip, replaced from stock.",
        "Mainspring tired, a new one laid ready.",
        "Winding pinion worn on one side, replaced.",
        "Nothing to replace beyond spring and gaskets.",
    ];
}
