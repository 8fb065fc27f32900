using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Casing;
using Workshop.Core.Cleaning;
using Workshop.Core.Corrections;
using Workshop.Core.FinalControls;
using Workshop.Core.Gates;
using Workshop.Core.Groups;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Parts;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Warranties;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core;

/// <summary>
/// One watch's journal as it grows: events are said by somebody at some time, decided, and kept. Each decision is checked for what must
/// always hold: positions are dense, versions rise by one, no id comes twice, and the decided job is the one the entries fold to.
/// </summary>
public sealed class Story
{
    public const string CaseSerial = "BX 4711";

    private readonly Dictionary<string, long> sequences = [];
    private readonly List<Entry> entries = [];
    private readonly List<StreamEntry> elsewhere = [];

    /// <param name="begins">When the watch is taken in: Monday, 2 March 2026, nine o'clock, unless the story says otherwise.</param>
    public Story(RouteDefinition? route = null, ShopRules? rules = null, JobTakenIn? taken = null, Instant? begins = null)
    {
        Now = begins ?? TestShop.Local(2026, 3, 2, 9);
        Rules = rules ?? (route is null ? TestShop.Rules : TestShop.With([route]));
        Does(
            taken ?? new JobTakenIn { Variant = (route ?? TestShop.FullAutomatic).Id, Customer = "customer-1", Watch = "watch-1", CaseSerial = CaseSerial, MovementNumber = null },
            TestShop.Desk, role: "desk");
    }

    public Label Label { get; } = Label.Complete(LabelKind.Job, [1, 2, 3, 4, 5, 6]);

    public ShopRules Rules { get; set; }

    /// <summary>Spares the comparison with a fold from the beginning after each decision; whoever says so compares at the end.</summary>
    public bool FoldsOnlyAtItsEnd { get; init; }

    public Job Job { get; private set; } = new() { Label = Label.Complete(LabelKind.Job, [1, 2, 3, 4, 5, 6]) };

    /// <summary>Own entries in order of acceptance.</summary>
    public IReadOnlyList<Entry> Entries => entries;

    /// <summary>Entries bound for other streams.</summary>
    public IReadOnlyList<StreamEntry> Elsewhere => elsewhere;

    /// <summary>The rules of earlier versions, where the story changes them.</summary>
    public Func<long, ShopRules>? RulesAsOf { get; set; }

    /// <summary>What a takedown of this watch goes by.</summary>
    public TakedownTerms? Takedown { get; set; }

    /// <summary>What is known of this watch when a rate set is measured.</summary>
    public RateTerms? Rate { get; set; }

    /// <summary>What the house has written down of this watch; nothing where nobody did.</summary>
    public WatchKnown? Watch { get; set; }

    public Func<string, Label?> OtherJobWithNumber { get; set; } = _ => null;

    /// <summary>The shelf as the shop counts it.</summary>
    public Func<string, PartStock?> StockOf { get; set; } = _ => null;

    public Func<Label, Job?> OtherJob { get; set; } = _ => null;

    /// <summary>Other watches that are near by when a count differs.</summary>
    public ImmutableArray<MixUpCandidate> NearBy { get; set; } = [];

    public Instant Now { get; private set; }

    public StageState this[Stage stage] => Job.Standings.Of(stage).State;

    public Story At(int year, int month, int day, int hour, int minute = 0) => At(TestShop.Local(year, month, day, hour, minute));

    public Story At(Instant now)
    {
        Now = now;
        return this;
    }

    public Story After(Duration passed) => At(Now + passed);

    /// <summary>A time of the story's present day.</summary>
    public Instant Today(int hour, int minute = 0) => (Now.InZone(TestShop.Zone).Date + new LocalTime(hour, minute)).InZoneStrictly(TestShop.Zone).ToInstant();

    /// <summary>Says something and keeps what is decided.</summary>
    /// <param name="at">When it was done; now when absent. More than two minutes ago it is a report.</param>
    public Decision Says(
        WorkshopEvent one, string? by = TestShop.Mara, Instant? at = null, string? role = null, string source = "/devices/bench-1/1", string[]? despite = null, bool already = false, string? bench = "bench-1", EventId? insteadOf = null)
    {
        var effective = at ?? Now;
        role ??= source == "/desk/1" ? "desk" : by == TestShop.Manager ? "manager" : "bench";
        var sequence = sequences[source] = sequences.GetValueOrDefault(source) + 1;
        var decision = JobRules.Decide(
            new JobHistory(Job, () => [.. entries.OrderBy(entry => entry.Place)]),
            new Incoming
            {
                Id = new EventId(source, $"e{sequence}"),
                Job = Label,
                Event = one,
                Manner = new Manner { Already = already, Despite = [.. despite ?? []], InsteadOf = insteadOf, Person = by, Bench = bench },
                Effective = effective,
                Received = Now,
                OrderSequence = source == "/desk/1" ? 0 : sequence,
                Live = !already && Now - effective <= Duration.FromMinutes(2),
            },
            new Facts { Rules = Rules, Person = Rules.PersonBehind(by), Role = role, Bench = bench, NextPosition = NextPosition, OtherJobWithNumber = OtherJobWithNumber, RulesAsOf = RulesAsOf, NearBy = (_, _, _) => NearBy, Cage = CageOf(one), StockOf = StockOf, OtherJob = OtherJob, Takedown = Takedown, Rate = one is RateSetRecorded ? Rate : null, Watch = WatchKnown.IsAsked(one) ? Watch : null });
        Keep(decision);
        return decision;
    }

    /// <summary>What the service writes into the job because of something in another stream: the end of a run.</summary>
    /// <param name="load">The entry that put the group into a cage.</param>
    public Decision Hears(WorkshopEvent one, EventId load, Instant? at = null)
    {
        var decision = JobRules.HearElsewhere(
            new JobHistory(Job, () => [.. entries.OrderBy(entry => entry.Place)]), one, load, new Place(at ?? Now, load.Source, 0, 0), Now, [],
            new Facts { Rules = Rules, Role = "service", NextPosition = NextPosition, NearBy = (_, _, _) => NearBy });
        Keep(decision);
        return decision;
    }

    /// <summary>A manager mends whose badge it was, over a stretch of a source's numbers.</summary>
    public Decision Mends(string source, long from, long to, string person)
    {
        var cause = new Entry
        {
            Id = new EventId("/devices/office/1", $"m{entries.Count}"),
            Place = new Place(Now, "/devices/office/1", 1, NextPosition),
            StreamVersion = 1,
            Received = Now,
            Event = new PersonCorrected { Source = source, FromSequence = from, ToSequence = to, Person = person, Reason = "the badge lay at the other bench" },
        };
        elsewhere.Add(new StreamEntry("source" + source, cause));
        var decision = JobRules.Mend(
            new JobHistory(Job, () => [.. entries.OrderBy(entry => entry.Place)]), cause, (PersonCorrected)cause.Event, new Facts { Rules = Rules, Role = "manager", NextPosition = NextPosition });
        Keep(decision);
        return decision;
    }

    /// <summary>It is accepted.</summary>
    public Story Does(WorkshopEvent one, string? by = TestShop.Mara, Instant? at = null, string? role = null, string source = "/devices/bench-1/1", string[]? despite = null)
    {
        var decision = Says(one, by, at, role, source, despite);
        Assert.True(decision.Outcome == Outcome.Accepted, $"{one} was {decision.Outcome}: {string.Join(", ", decision.Against.Select(gate => gate.Gate))}");
        return this;
    }

    /// <summary>It is refused; the gates that stood against it, the strongest first.</summary>
    public ImmutableArray<Objection> Refused(WorkshopEvent one, string? by = TestShop.Mara, string? role = null, string[]? despite = null)
    {
        var decision = Says(one, by, role: role, despite: despite);
        Assert.Equal(Outcome.Refused, decision.Outcome);
        return decision.Against;
    }

    /// <summary>The only gate that stood against a refused event.</summary>
    public Objection RefusedBy(WorkshopEvent one, string? by = TestShop.Mara, string? role = null, string[]? despite = null) => Assert.Single(Refused(one, by, role, despite));

    /// <summary>Walks the usual way until a stage stands, each step ten minutes after the one before.</summary>
    public Story Through(Stage stage)
    {
        foreach (var planned in Job.Standings.Plan.ToArray())
        {
            if (!Job.Standings.Stands(planned.Stage))
            {
                DoUsually(planned.Stage);
            }

            if (planned.Stage == stage)
            {
                break;
            }
        }

        Assert.True(Job.Standings.Stands(stage));
        return this;
    }

    public Story Start(Stage stage, string? by = TestShop.Mara) => Does(new StageStarted { Stage = stage }, by);

    public Story Finish(Stage stage, string? by = TestShop.Mara) => Does(new StageFinished { Stage = stage }, by);

    public Story SendBack(Stage stage, Stage to, string? by = TestShop.Mara) => Does(new StageSentBack { Stage = stage, To = to, Reason = "it must be done again" }, by);

    public static WearCheckStarted WearStart(decimal offset = 0) => new() { Kind = WearCheckKind.Worn, OffsetSeconds = offset, FullyWound = true, Place = WearPlace.Winder };

    public static WearCheckRead WearRead(decimal offset) => new() { Kind = WearCheckKind.Worn, OffsetSeconds = offset };

    public static WearCheckRead FoundStopped { get; } = new() { Kind = WearCheckKind.Worn, Stopped = true };

    public static WaterTestRecorded WaterTest(bool passed = true) => new() { Method = WaterTestMethod.Dry, PressureBar = 6, HoldSeconds = 60, Passed = passed };

    public static RateSetRecorded RateSet { get; } = new() { WindState = WindState.Full, Readings = [new RateReading(Position.DialUp, 4, 280, 0.2m), new RateReading(Position.CrownDown, 2, 265, 0.3m)] };

    public CaseClosed Closing(string? serial = CaseSerial) => new() { JobLabel = Label.ToString(), CaseSerial = serial ?? "" };

    public FinalControlPassed AllChecksOk => new() { Checks = [.. Job.Route!.FinalChecks.Select(check => new FinalCheck(check, CheckResult.Ok))] };

    public JobHandedOver HandedOver(params string[] pieces) =>
        new() { How = HandedOverHow.Collected, On = Rules.Calendar.DateOf(Now), Pieces = pieces.Length == 0 ? null : [.. pieces] };

    public QuoteSent Quote(int version = 1, int workingDays = 20) => new()
    {
        Version = version,
        Lines = [new QuoteLine { Text = "Full service", AmountMinor = 65000 }],
        Currency = "CHF",
        ValidThrough = Rules.Calendar.DateOf(Now).PlusDays(30),
        WorkingDays = workingDays,
    };

    public static QuoteAnswered Answer(bool accepted = true, int version = 1) => new() { Version = version, Accepted = accepted, Channel = AnswerChannel.Desk };

    /// <summary>A command of the desk, a minute after what was done before.</summary>
    public Story DeskDoes(WorkshopEvent one) => After(Duration.FromMinutes(1)).Does(one, TestShop.Desk, source: "/desk/1");

    public ImmutableArray<AgendaRow> Agenda() => AgendaPlan.For(Job, Rules);

    public ImmutableArray<NextStep> Next(string role = "bench") => NextSteps.Of(Job, Rules, Now, role);

    private CageFacts? CageOf(WorkshopEvent one) => one is CageLoaded loaded
        ? new CageFacts { Loaded = new RunNeighbour(Label, loaded.Group, Job.Groups.Find(loaded.Group)?.Flags ?? [], null) }
        : null;

    private long NextPosition => entries.Count + elsewhere.Count + 1;

    private void DoUsually(Stage stage)
    {
        After(Duration.FromMinutes(10));
        switch (stage)
        {
            case Stage.Quote:
                if (Job.Quotes.Newest is not { Accepted: null })
                {
                    DeskDoes(Quote((Job.Quotes.Newest?.Version ?? 0) + 1));
                }

                DeskDoes(Answer(version: Job.Quotes.Newest!.Version));
                break;
            case Stage.Queue or Stage.Ready:
                break;
            case Stage.Regulation:
                Does(RateSet);
                Finish(stage);
                break;
            case Stage.Casing:
                Does(Closing());
                break;
            case Stage.WaterTest:
                Does(WaterTest());
                break;
            case Stage.WearCheck:
                if (Job.WearChecks.Running is null)
                {
                    Does(WearStart());
                }

                At(Job.WearChecks.Running!.Due!.Value + Duration.FromMinutes(5));
                Does(WearRead(3));
                break;
            case Stage.FinalControl:
                Does(AllChecksOk, TestShop.Jonas);
                break;
            case Stage.Settlement:
                DeskDoes(new StageFinished { Stage = Stage.Settlement });
                break;
            case Stage.HandedOver:
                DeskDoes(HandedOver());
                break;
            default:
                Finish(stage);
                break;
        }
    }

    private void Keep(Decision decision)
    {
        foreach (var (stream, entry) in decision.Entries)
        {
            Assert.Equal(NextPosition, entry.Position);
            if (stream == StreamEntry.OfJob(Label))
            {
                Assert.Equal(entries.Count + 1, entry.StreamVersion);
                Assert.DoesNotContain(entries, other => other.Id == entry.Id);
                entries.Add(entry);
            }
            else
            {
                elsewhere.Add(new StreamEntry(stream, entry));
            }
        }

        Job = decision.Job;
        if (!FoldsOnlyAtItsEnd)
        {
            Assert.Equal(Portrait.Of(Job.Replay(Label, entries)), Portrait.Of(Job));
        }
    }
}
