using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Core.Scans;

/// <summary>
/// Reads what a scan means: what, and what happens to it, or where. A scanner has neither keys nor logic; two labels say everything, and
/// where they do not, the answer asks.
/// </summary>
public static class ScanReading
{
    public const string Cleaning = "places/cleaning";
    public const string CaseRoom = "places/case-work";
    public const string Control = "places/control";
    public const string Desk = "places/desk";

    private const int ChoicesAtMost = 3;

    public static ScanMeaning Of(ScanContents scan, ScanSetting by) => scan switch
    {
        { OfCleaning: not null } => new ScanMeaning.SaysNothing(Phrase.Of("Load a cage with its watch, at the tablet")),
        { Job: null, Person: { } person, Word: null, Tray: null, WinderPlace: null } => new ScanMeaning.SignsOn(person, scan.Bench ?? by.Bench),
        { Job: null } => new ScanMeaning.SaysNothing(Phrase.Of("Of which watch? Scan its label with it")),
        { Word: { } word } => Card(scan, word, by),
        { WinderPlace: { } place, Bench: null, Person: null, Tray: null } => Winder(scan.Job, scan.Piece, place, by),
        { Bench: { } bench, Person: null, Tray: null, WinderPlace: null } => new ScanMeaning.Says(Taken(scan, $"benches/{bench}")),
        { Tray: { } tray, Bench: null, Person: null, WinderPlace: null } => new ScanMeaning.Says(Put(scan, $"trays/{tray}")),
        { Person: { } person, Bench: null, Tray: null, WinderPlace: null } => new ScanMeaning.Asks(
            Phrase.Of("{0}, and {1}: which?", Where(scan), person),
            new ScanChoice(Phrase.Of("{0} takes it", person), Taken(scan, $"people/{person}")),
            new ScanChoice(Phrase.Of("Given to {0}", person), Given(scan, $"people/{person}"))),
        { Person: null, Bench: null, Tray: null, WinderPlace: null } => Alone(scan, by),
        _ => new ScanMeaning.SaysNothing(Phrase.Of("Too much at once: scan two labels")),
    };

    private static ScanMeaning Card(ScanContents scan, WordCard word, ScanSetting by) => word switch
    {
        WordCard.ToCleaning => new ScanMeaning.Says(Given(scan, Cleaning, PieceKind.Movement)),
        WordCard.ToCaseWork => new ScanMeaning.Says(Given(scan, CaseRoom, PieceKind.Case)),
        WordCard.ToControl => new ScanMeaning.Says(Given(scan, Control)),
        WordCard.ToDesk => new ScanMeaning.Says(Given(scan, Desk)),
        WordCard.Given => (Person: scan.Person, scan.Bench) switch
        {
            ({ } person, null) => new ScanMeaning.Says(Given(scan, $"people/{person}")),
            (null, { } bench) => new ScanMeaning.Says(Given(scan, $"benches/{bench}")),
            _ => new ScanMeaning.Asks(Phrase.Of("Given to whom? Scan one badge or bench with it")),
        },
        WordCard.Taken when scan.Bench is { } bench => Takes(scan, $"benches/{bench}"),
        WordCard.Taken when (scan.Person ?? by.Person) is { } person => Takes(scan, $"people/{person}"),
        WordCard.Taken => new ScanMeaning.Asks(Phrase.Of("Taken by whom? Scan your badge with it")),
        WordCard.PutDown => PlaceOf(scan, by) is { } place ? new ScanMeaning.Says(Put(scan, place)) : new ScanMeaning.Asks(Phrase.Of("Put down where? Scan the place with it")),
        WordCard.Started => Started(scan.Job!, by),
        WordCard.Finished => Finished(scan.Job!, scan.Person ?? by.Person, by),
        WordCard.StopQuestion => new ScanMeaning.Says(Question(scan, by)),
    };

    /// <summary>What the watch is, and what usually comes next.</summary>
    private static ScanMeaning.Asks Alone(ScanContents scan, ScanSetting by)
    {
        var choices = new List<ScanChoice>();
        var person = by.Person;
        if (person is not null && Meant(scan) is [var first, ..] && first.Holder != $"people/{person}" && PieceLedger.MayTake(first, Taken(scan), person, by.Bench))
        {
            choices.Add(new ScanChoice(Phrase.Of("I take it"), Taken(scan, $"people/{person}")));
        }

        if (scan.Piece is null)
        {
            choices.AddRange(FinishOf(scan.Job!, person, by).Where(step => step.Finishes == "stage.finished").Take(1).Select(Finish));
            choices.AddRange(StartOf(scan.Job!, by).Where(step => step is { Against.IsEmpty: true, Starts: "stage.started" }).Take(1).Select(Start));
        }

        return new ScanMeaning.Asks(Where(scan), [.. choices.Take(ChoicesAtMost - 1), new ScanChoice(Phrase.Of("Stop, a question"), Question(scan, by))]);
    }

    /// <summary>On the winder the worn check begins or goes on; the offset no label can say.</summary>
    private static ScanMeaning.Asks Winder(Job job, string? piece, string place, ScanSetting by)
    {
        var put = new ScanChoice(Phrase.Of("Only put it there"), new PiecePut { Piece = piece, To = $"winder-places/{place}" });
        if (job.WearChecks.Running is not { } running)
        {
            return new ScanMeaning.Asks(
                Phrase.Of("Fully wound? Begin the worn check with its offset"),
                new ScanChoice(Phrase.Of("Fully wound, it begins"), BeginOnWinder(place), "/data/offsetSeconds"), put);
        }

        var read = new ScanChoice(Phrase.Of("Read it"), new WearCheckRead { Kind = WearCheckKind.Worn, Place = WearPlace.Winder, Reference = TimeReference.Server }, "/data/offsetSeconds");
        return running.PausedSince is null
            ? new ScanMeaning.Asks(Phrase.Of("A worn check is running"), read, new ScanChoice(Phrase.Of("It comes off"), new WearCheckPaused { Kind = WearCheckKind.Worn }), put)
            : new ScanMeaning.Asks(Phrase.Of("A worn check stands still"), new ScanChoice(Phrase.Of("It goes on"), new WearCheckResumed { Kind = WearCheckKind.Worn, Place = WearPlace.Winder }), read, put);
    }

    private static WearCheckStarted BeginOnWinder(string? place = null) => new()
    {
        Kind = WearCheckKind.Worn,
        FullyWound = true,
        Place = WearPlace.Winder,
        WinderPlace = place,
        Reference = TimeReference.Server,
    };

    private static ScanMeaning Started(Job job, ScanSetting by)
    {
        var steps = StartOf(job, by).ToArray();
        var allowed = steps.Where(step => step.Against.IsEmpty).ToArray();
        return (allowed, steps) switch
        {
            ([{ Stage: Stage.WearCheck }], _) => new ScanMeaning.Asks(
                Phrase.Of("Fully wound? Begin the worn check with its offset"), new ScanChoice(Phrase.Of("Fully wound, it begins"), BeginOnWinder(), "/data/offsetSeconds")),
            ([var one], _) => new ScanMeaning.Says(new StageStarted { Stage = one.Stage!.Value }),
            ([_, ..], _) => new ScanMeaning.Asks(Phrase.Of("Which one begins?"), [.. allowed.Where(step => step.Stage != Stage.WearCheck).Take(ChoicesAtMost).Select(Start)]),

            // Nothing may begin: the first that is open says itself what stands against it.
            (_, [var first, ..]) => new ScanMeaning.Says(new StageStarted { Stage = first.Stage!.Value }),
            _ => new ScanMeaning.SaysNothing(Phrase.Of("There is nothing left to begin here")),
        };
    }

    private static ScanMeaning Finished(Job job, string? person, ScanSetting by)
    {
        var steps = FinishOf(job, person, by).ToArray();
        return steps switch
        {
            [] => new ScanMeaning.SaysNothing(Phrase.Of("Nothing is being worked on that ends by saying so")),
            [{ Finishes: "wear-check.read" }] => new ScanMeaning.Asks(
                Phrase.Of("Read the worn check: its offset"),
                new ScanChoice(Phrase.Of("Read it"), new WearCheckRead { Kind = WearCheckKind.Worn, Reference = TimeReference.Server }, "/data/offsetSeconds")),
            [{ Finishes: not "stage.finished" } one] => new ScanMeaning.Asks(Phrase.Of("{0} ends by {1}, not by saying so", one.Stage!.Value, one.Finishes!)),
            [var one] => new ScanMeaning.Says(new StageFinished { Stage = one.Stage!.Value }),
            _ => new ScanMeaning.Asks(Phrase.Of("Which one is done?"), [.. steps.Where(step => step.Finishes == "stage.finished").Take(ChoicesAtMost).Select(Finish)]),
        };
    }

    /// <summary>Stages that are open and that somebody could begin.</summary>
    private static IEnumerable<NextStep> StartOf(Job job, ScanSetting by) => NextSteps.Of(job, by.Rules, by.At, by.Role)
        .Where(step => step is { Stage: not null, Starts: "stage.started" or "wear-check.started" } && by.MaySay(new StageStarted { Stage = step.Stage.Value }));

    /// <summary>What is being worked on, by this person where they are at something; else what could be done in one go.</summary>
    private static NextStep[] FinishOf(Job job, string? person, ScanSetting by)
    {
        var open = NextSteps.Of(job, by.Rules, by.At, by.Role)
            .Where(step => step is { Stage: { } stage, Finishes: not null } && by.MaySay(new StageFinished { Stage = stage }))
            .ToArray();
        var running = open.Where(step => job.Standings.Of(step.Stage!.Value).State == StageState.Running).ToArray();
        var own = running.Where(step => person is not null && job.Standings.Of(step.Stage!.Value).At.Contains(person)).ToArray();
        return own.Length > 0 ? own
            : running.Length > 0 ? running
            : [.. open.Where(step => step is { Finishes: "stage.finished", Against.IsEmpty: true })];
    }

    private static ScanChoice Start(NextStep step) => new(Phrase.Of("Begin {0}", step.Stage!.Value), new StageStarted { Stage = step.Stage!.Value });

    private static ScanChoice Finish(NextStep step) => new(Phrase.Of("{0} is done", step.Stage!.Value), new StageFinished { Stage = step.Stage!.Value });

    private static PieceGiven Given(ScanContents scan, string to, PieceKind? kind = null) => new() { Piece = scan.Piece, Kind = scan.Piece is null ? kind : null, To = to };

    private static PieceTaken Taken(ScanContents scan, string? to = null) => new() { Piece = scan.Piece, To = to };

    /// <summary>The second half of a hand-off is about what was given: of a watch whose movement alone was given, the movement alone is taken.</summary>
    private static ScanMeaning Takes(ScanContents scan, string to)
    {
        var given = scan.Piece is null ? scan.Job!.Pieces.Pieces.Where(piece => piece.GivenTo is not null).ToArray() : [];
        return given.Length == 0 || Meant(scan).All(given.Contains) ? new ScanMeaning.Says(Taken(scan, to))
            : given is [var one] ? new ScanMeaning.Says(Taken(scan with { Piece = one.Id }, to))
            : new ScanMeaning.Asks(
                Phrase.Of("Which piece?"),
                [.. given.Take(ChoicesAtMost).Select(piece => new ScanChoice(Phrase.Of("{0}", piece.Term), Taken(scan with { Piece = piece.Id }, to)))]);
    }

    private static PiecePut Put(ScanContents scan, string to) => new() { Piece = scan.Piece, To = to };

    private static HoldPlaced Question(ScanContents scan, ScanSetting by) => new()
    {
        Hold = HoldReason.Query,
        Reason = $"stop card: {(scan.Person ?? by.Person) ?? "somebody"} has a question{(by.Bench is { } bench ? $" at {bench}" : "")}",
    };

    private static string? PlaceOf(ScanContents scan, ScanSetting by) =>
        scan.Tray is { } tray ? $"trays/{tray}"
        : scan.WinderPlace is { } winder ? $"winder-places/{winder}"
        : (scan.Bench ?? by.Bench) is { } bench ? $"benches/{bench}"
        : null;

    private static Piece[] Meant(ScanContents scan) => [.. scan.Job!.Pieces.Meant(scan.Piece, null)];

    private static Phrase Where(ScanContents scan)
    {
        var holder = Meant(scan) is [var first, ..] ? first.Holder : "";
        var label = scan.Job!.Label.ToString();
        return scan.Piece is { } piece ? Phrase.Of("{0}: {1}, {2}", label, new Term("piece", piece), holder)
            : scan.Job.Standings.Current is { } stage ? Phrase.Of("{0}: {1}, {2}", label, stage, holder)
            : Phrase.Of("{0}: nothing left to do, {1}", label, holder);
    }
}
