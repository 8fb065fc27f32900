using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Notes;
using Workshop.Core.Pieces;
using Workshop.Core.Quotes;
using Workshop.Core.Reports;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Timekeeping;
using Workshop.Core.Warranties;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;

namespace Workshop.Benchmarks.Folds;

/// <summary>A decision that was asked for behind all entries of a job, with what it was asked about.</summary>
internal sealed record Asked(Job Job, Incoming Incoming, Facts Facts);

/// <summary>
/// The long life of a difficult watch, decided event by event as the service does it: it comes apart and goes together again and again,
/// is regulated, tested, worn, sent back; quotes follow one another, it is held and released, and benches report late.
/// </summary>
internal sealed class LongLife
{
    private const string Desk = "/desk/front";
    private const string Bench = "/devices/bench-1/1";
    private const string OtherBench = "/devices/bench-2/1";
    private const string Mara = "mara";
    private const string Jonas = "jonas";

    private static readonly Label Label = Label.Complete(LabelKind.Job, [1, 2, 3, 4, 5, 6]);
    private static readonly Position[] Positions = [Position.DialUp, Position.DialDown, Position.CrownDown, Position.CrownLeft, Position.CrownUp];

    private readonly ShopRules rules;
    private readonly List<Entry> entries = [];
    private readonly List<Asked> inOrder = [];
    private readonly Dictionary<string, long> sequences = [];
    private Job job = new() { Label = Label };
    private Instant now;

    /// <param name="rules">By which it is judged.</param>
    /// <param name="atLeast">Entries of the job before its last round.</param>
    public LongLife(ShopRules rules, int atLeast)
    {
        this.rules = rules;
        now = new LocalDateTime(2026, 3, 2, 9, 0).InZoneLeniently(rules.Calendar.Zone).ToInstant();
        ComesIn();
        for (var round = 1; entries.Count < atLeast; round++)
        {
            GoesRound(round);
        }

        GoesHome();
    }

    /// <summary>Its entries in order of acceptance.</summary>
    public IReadOnlyList<Entry> Entries => entries;

    /// <summary>What was asked behind all entries, in order.</summary>
    public IReadOnlyList<Asked> InOrder => inOrder;

    public Job Job => job;

    private void ComesIn()
    {
        Desks(new JobTakenIn
        {
            Variant = "full-automatic",
            Customer = "customer-1",
            Watch = "watch-1",
            CaseSerial = "C 1",
            MovementNumber = "M 1",
            Counted = [new CountedPiece(PieceKind.Bracelet, 1), new CountedPiece(PieceKind.Links, 2), new CountedPiece(PieceKind.BoxAndPapers, 1)],
        });
        Works(Stage.Diagnosis);
        Quote(1);
    }

    private void GoesRound(int round)
    {
        Does(new PieceTaken { To = "benches/bench-1" });
        Works(Stage.Takedown, notes: 3);
        Does(new PiecePut { Kind = PieceKind.Movement, To = "trays/tray-1" });
        Works(Stage.Cleaning);
        Does(new PieceTaken { Kind = PieceKind.Movement, From = "trays/tray-1", To = "benches/bench-1" });
        Works(Stage.Inspection, notes: 2);
        if (round % 2 == 0)
        {
            Desks(new HoldPlaced { Hold = HoldReason.Parts, Reason = "a third wheel is on its way" });
            now += Duration.FromDays(2);
            Desks(new HoldLifted { Hold = HoldReason.Parts, Reason = "it came" });
        }

        if (round % 3 == 0)
        {
            Quote(1 + round / 3);
        }

        Works(Stage.Rebuild, notes: 2);
        Begins(Stage.Regulation);
        Measures(cased: false);
        Does(new IndexTouched());
        Measures(cased: false);
        Finishes(Stage.Regulation);
        Works(Stage.CaseStrip);
        Works(Stage.CaseWork, notes: 1);
        Finishes(Stage.Gaskets);
        Works(Stage.DialAndHands);
        Closes();
        Does(new WaterTestRecorded { Method = WaterTestMethod.Dry, PressureBar = 3, HoldSeconds = 60, Passed = round % 2 == 0 });
        if (round % 2 == 1)
        {
            Does(new CaseOpened { Reason = "the case leaks at the crown" });
            Closes();
            Does(new WaterTestRecorded { Method = WaterTestMethod.Dry, PressureBar = 3, HoldSeconds = 60, DeformationMicrometres = 4.1m, Passed = true });
        }

        Measures(cased: true);
        ReportsLate(new NoteWritten { Text = "The bracelet was cleaned before lunch" }, Outcome.Accepted);
        Wears(offset: round % 2 == 0 ? 3 : 14);
        if (round % 2 == 0)
        {
            Finishes(Stage.ReserveAndFunctions);
            if (ReportsLate(AllChecksOk, Outcome.Noted) is { } report)
            {
                Manages(new ReportSettled { Of = report, As = SettledAs.DidNotHappen, Reason = "whoever rebuilt it does not control it" });
            }

            Does(new FinalControlRefused { To = Stage.Takedown, Reason = "a fibre under the glass, and it runs down too soon" }, Jonas, OtherBench);
        }
        else
        {
            Manages(new StageSentBack { Stage = Stage.WearCheck, To = Stage.Takedown, Reason = "outside the window once more" });
        }
    }

    private void GoesHome()
    {
        foreach (var stage in (Stage[])[Stage.Takedown, Stage.Cleaning, Stage.Inspection, Stage.Rebuild])
        {
            Works(stage);
        }

        Begins(Stage.Regulation);
        Measures(cased: false);
        Finishes(Stage.Regulation);
        Finishes(Stage.DialAndHands);
        Closes();
        Does(new WaterTestRecorded { Method = WaterTestMethod.Dry, PressureBar = 3, HoldSeconds = 60, Passed = true });
        Wears(offset: 3);
        Finishes(Stage.ReserveAndFunctions);
        Does(AllChecksOk, Jonas, OtherBench);
        Desks(new StageFinished { Stage = Stage.Settlement });
        Desks(new JobHandedOver { How = HandedOverHow.Collected, On = rules.Calendar.DateOf(now) });
    }

    private void Quote(int version)
    {
        Desks(new QuoteSent
        {
            Version = version,
            Currency = "CHF",
            Lines = [new QuoteLine { Text = "Full service", AmountMinor = 64_000 }, new QuoteLine { Text = "Third wheel", AmountMinor = 4_500 }],
            ValidThrough = rules.Calendar.DateOf(now).PlusDays(30),
            WorkingDays = 20,
        });
        Desks(new QuoteAnswered { Version = version, Accepted = true, Channel = AnswerChannel.Telephone });
    }

    private void Works(Stage stage, int notes = 0)
    {
        if (job.Standings.Stands(stage))
        {
            return;
        }

        Begins(stage);
        for (var i = 0; i < notes; i++)
        {
            Does(new NoteWritten { Text = "Pivot polished, jewel sound, end shake a touch more than it should be" });
        }

        Finishes(stage);
    }

    private void Begins(Stage stage) => Does(new StageStarted { Stage = stage });

    private void Finishes(Stage stage)
    {
        if (!job.Standings.Stands(stage))
        {
            Does(new StageFinished { Stage = stage });
        }
    }

    private void Measures(bool cased) => Does(new RateSetRecorded
    {
        WindState = WindState.Full,
        LiftAngleDegrees = 52,
        VibrationsPerHour = 28_800,
        Cased = cased,
        Readings = [.. Positions.Select((position, i) => new RateReading(position, 4.2m - i, 291 - 6 * i, 0.2m))],
    });

    private void Closes() => Does(new CaseClosed { JobLabel = $"{Label}", CaseSerial = "C 1", MovementNumber = "M 1" });

    private void Wears(decimal offset)
    {
        Does(new WearCheckStarted { Kind = WearCheckKind.Worn, OffsetSeconds = 0, FullyWound = true, Place = WearPlace.Winder });
        now += Duration.FromHours(6);
        Does(new WearCheckPaused { Kind = WearCheckKind.Worn, Reason = "the winder is needed" });
        now += Duration.FromHours(1);
        Does(new WearCheckResumed { Kind = WearCheckKind.Worn, Place = WearPlace.Winder });
        Does(new WearCheckRead { Kind = WearCheckKind.Worn, OffsetSeconds = 1, Interim = true });
        now += job.WearChecks.Running!.Due!.Value - now;
        Does(new WearCheckRead { Kind = WearCheckKind.Worn, OffsetSeconds = offset });
    }

    private FinalControlPassed AllChecksOk => new() { Checks = [.. job.Route!.FinalChecks.Select(check => new FinalCheck(check, CheckResult.Ok))] };

    private void Does(WorkshopEvent one, string person = Mara, string source = Bench) => Says(one, person, source, "bench", now += Duration.FromMinutes(7), Outcome.Accepted);

    private void Desks(WorkshopEvent one) => Says(one, null, Desk, "desk", now += Duration.FromMinutes(7), Outcome.Accepted);

    private void Manages(WorkshopEvent one) => Says(one, "ines", Desk, "manager", now += Duration.FromMinutes(7), Outcome.Accepted);

    private EventId? ReportsLate(WorkshopEvent one, Outcome expected) => Says(one, Mara, OtherBench, "bench", now - Duration.FromMinutes(20), expected);

    private EventId Says(WorkshopEvent one, string? person, string source, string role, Instant at, Outcome expected)
    {
        var sequence = sequences[source] = sequences.GetValueOrDefault(source) + 1;
        var incoming = new Incoming
        {
            Id = new EventId(source, $"{sequence}"),
            Job = Label,
            Event = one,
            Manner = new Manner { Person = person, Bench = role == "bench" ? "bench-1" : null },
            Effective = at,
            Received = now,
            OrderSequence = source == Desk ? 0 : sequence,
            Live = at == now,
        };
        var facts = new Facts { Rules = rules, Person = rules.PersonBehind(person), Role = role, Bench = incoming.Manner.Bench, NextPosition = entries.Count + 1 };
        var before = job;
        var decision = JobRules.Decide(new JobHistory(before, () => [.. entries.OrderBy(entry => entry.Place)]), incoming, facts);
        if (decision.Outcome != expected)
        {
            throw new InvalidOperationException($"{one.Type} after {entries.Count} entries was {decision.Outcome}: {string.Join("; ", decision.Against.Select(against => against.Line))}");
        }

        if (incoming.Live && one is not ReportSettled)
        {
            inOrder.Add(new Asked(before, incoming, facts));
        }

        entries.AddRange(decision.Entries.Select(written => written.Entry));
        job = decision.Job;
        return incoming.Id;
    }
}
