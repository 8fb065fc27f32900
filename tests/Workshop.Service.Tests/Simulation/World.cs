using System.Globalization;
using NodaTime;
using NodaTime.Testing;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Tests.Simulation;

/// <summary>
/// A workshop of a few benches over some days, with everything that goes wrong between a bench and the service. All chance comes from the
/// seed, all time from one clock that the world moves: the same seed gives the same days.
/// </summary>
internal sealed partial class World : IAsyncDisposable
{
    private static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Zurich"];
    private static readonly LocalTime Opens = new(9, 0);
    private static readonly LocalTime Closes = new(18, 0);
    private static readonly string[] People = ["mara", "jon", "lea", "vera", "mara"];

    private readonly Random chance;
    private readonly FakeClock clock = new(WorkshopHost.Monday);
    private readonly PriorityQueue<Func<Task>, (Instant At, long Order)> plan = new();
    private readonly List<string> log = [];
    private readonly List<Tablet> tablets = [];
    private readonly List<Tablet> retired = [];
    private readonly List<Label> jobs = [];
    private readonly List<(Label Job, string Gate)> stops = [];
    private readonly HashSet<string> known = new(StringComparer.Ordinal);
    private readonly Instant lastDay;
    private Tablet manager = null!;
    private House house = null!;
    private long planned;
    private int commands;

    private World(int seed, WayIn way)
    {
        this.way = way;
        chance = new Random(seed);
        lastDay = WorkshopHost.Monday + Duration.FromDays(chance.Next(2, 4));
    }

    /// <summary>What happened, a line each.</summary>
    public IReadOnlyList<string> Log => log;

    public VerdictBook Told { get; } = new();

    public List<string> Faults { get; } = [];

    public int Deaths { get; private set; }

    public string Folder => house.Folder;

    public Instant Now => clock.GetCurrentInstant();

    /// <summary>Lives through the days of a seed and has them checked, after every death and at the end.</summary>
    public static async Task<World> Live(int seed, WayIn way = WayIn.None)
    {
        var world = new World(seed, way);
        world.shopfront = way == WayIn.None ? null : await Shopfront.Open(seed, world.clock);
        world.house = await House.Found(world.clock, world.SettingsFor());
        try
        {
            await world.Begin();
            await world.JoinTheStorefront();
            await world.GoOn(until: world.lastDay);
            await world.BringHome();
            world.Check(isTheEnd: true);
            await world.HearEachOtherOut();
        }
        catch (Exception failure) when (failure is not ProcessDied)
        {
            world.Faults.Add($"At {world.Now}: {failure}");
        }

        return world;
    }

    public Evidence Evidence(bool isTheEnd = true) => new(house.Folder, Told, Now, isTheEnd);

    public async ValueTask DisposeAsync()
    {
        await house.DisposeAsync();
        if (shopfront is not null)
        {
            await shopfront.DisposeAsync();
        }
    }

    private async Task Begin()
    {
        manager = new Tablet("office", house.AddKey(Role.Manager, "/desk/office", null), "vera") { TellsSentAt = true, BadLine = 0.02 };
        tablets.Add(manager);
        for (var bench = chance.Next(3, 6); bench > 0; bench--)
        {
            tablets.Add(NewTablet($"bench-{bench}", 1, People[bench - 1]));
        }

        for (var left = chance.Next(3, 7); left > 0; left--)
        {
            Plan(After(0, 240), TakeIn);
        }

        foreach (var tablet in tablets.Where(tablet => tablet != manager))
        {
            Plan(After(10, 60), () => Work(tablet));
        }

        Plan(After(15, 30), Manage);
        Plan(After(10, 20), AtTheDesk);
        Plan(After(1, 30), Sweep);
        Plan(After(60, 300), SomethingHappensToTheProcess);
        Plan(After(60, 300), SomethingHappensToATablet);
        Plan(After(30, 200), TwoReachForTheSamePiece);
        Plan(After(20, 60), SomebodyIsInTheCleaningRoom);
        await FurnishTheCleaningRoom();
    }

    private Tablet NewTablet(string bench, int pairing, string person) => new(
        $"{bench}/{pairing}", house.AddKey(Role.Bench, $"/devices/{bench}/{pairing}", bench), person)
    {
        TellsSentAt = chance.Next(2) == 0,
        TellsTime = chance.Next(6) > 0,
        BadLine = BenchWork.Pick(chance, 0.01, 0.05, 0.12),
        ClockAhead = WrongClock(),
    };

    private Duration WrongClock() => chance.Next(10) switch
    {
        < 4 => Duration.Zero,
        4 or 5 => Duration.FromMilliseconds(chance.Next(-30_000, 30_000)),
        6 or 7 => Duration.FromSeconds(chance.Next(-3600, 3600)),
        8 => Duration.FromDays(BenchWork.Pick(chance, 365, -365)),
        _ => Duration.FromDays(-9_500),
    };

    // ---- time ----

    private Instant After(int minutes, int atMost) => Now + Duration.FromMilliseconds(chance.NextInt64(minutes * 60_000L, (atMost * 60_000L) + 1));

    private Instant InSeconds(double least, double most) => Now + Duration.FromMilliseconds((long)(1000 * (least + ((most - least) * chance.NextDouble()))));

    private void Plan(Instant at, Func<Task> what) => plan.Enqueue(what, (at, planned++));

    /// <summary>The same moment, or the opening of the next day where nobody is there.</summary>
    private static Instant WhenOpen(Instant at)
    {
        var local = at.InZone(Zone).LocalDateTime;
        var open = local.TimeOfDay < Opens ? local.Date + Opens : local.TimeOfDay >= Closes ? local.Date.PlusDays(1) + Opens : local;
        return open == local ? at : Zone.AtLeniently(open.PlusSeconds(local.Minute)).ToInstant();
    }

    private async Task GoOn(Instant until)
    {
        while (plan.TryDequeue(out var what, out var when) && when.At <= until)
        {
            clock.Reset(Instant.Max(Now, when.At));
            try
            {
                await what();
            }
            catch (ProcessDied)
            {
                Note("the process", "died");
            }

            // Whoever shut the door behind its last commit has not answered any more.
            if (house.Died)
            {
                await StartAgain();
            }
        }
    }

    private void Note(string who, string what) =>
        log.Add(string.Create(CultureInfo.InvariantCulture, $"{Now.InZone(Zone).LocalDateTime:ddd HH:mm:ss.fff}  {who,-11}  {what}"));

    // ---- the house ----

    private async Task TakeIn()
    {
        Span<int> free = stackalloc int[Label.Length - 2];
        foreach (ref var place in free)
        {
            place = chance.Next(Label.Alphabet.Length);
        }

        var label = Label.Complete(LabelKind.Job, free);
        var variant = BenchWork.Pick(chance, "full-automatic", "full-automatic", "full-chronograph");
        Plan(After(1, 5), () => TakeIn(label, variant));
        await Task.CompletedTask;
    }

    private async Task TakeIn(Label label, string variant)
    {
        if (!jobs.Contains(label))
        {
            jobs.Add(label);
        }

        // A desk that heard no answer looks, and tries again.
        Plan(After(1, 2), async () =>
        {
            if (await house.Reader.History(House.Site, label) is null)
            {
                await TakeIn(label, variant);
            }
        });
        await house.Turn(turn =>
        {
            turn.BindLabel(label, StreamEntry.OfJob(label));
            turn.Append([turn.Compose(
                StreamEntry.OfJob(label),
                new EventId("/desk/front", $"take-in/{label}"),
                new JobTakenIn { Variant = variant, Customer = "c-1", Watch = "w-1", CaseSerial = $"A {label}" },
                new Judged { Role = "desk", Route = turn.Rules.Routes[variant] })]);
            return true;
        });
        Note("desk", $"takes in {label}, {variant}");
    }

    private async Task AtTheDesk()
    {
        Plan(WhenOpen(After(10, 60)), AtTheDesk);
        foreach (var label in jobs)
        {
            if (await house.Reader.History(House.Site, label) is not { Job: { } job })
            {
                continue;
            }

            // Whose watch came by way of a storefront is asked through it; now and then they telephone, or the desk writes another version.
            var asks = job.Intake.Ordered is not null && chance.Next(10) > 0;
            WorkshopEvent? one = job.Standings.Current switch
            {
                Stage.Quote when asks && job.Quotes.Newest is { Accepted: null } => null,
                Stage.Quote when job.Intake.Ordered is not null && chance.Next(2) == 0 => Quote(job),
                Stage.Quote when job.Quotes.Newest is not { Accepted: null } => Quote(job),
                Stage.Quote => new QuoteAnswered { Version = job.Quotes.Newest!.Version, Accepted = chance.Next(12) > 0 },
                Stage.Settlement => new StageFinished { Stage = Stage.Settlement },
                Stage.HandedOver or Stage.ReturnUnrepaired when chance.Next(2) == 0 => new JobHandedOver { How = job.Intake.Ordered is null || chance.Next(2) == 0 ? HandedOverHow.Collected : HandedOverHow.Dispatched, On = Now.InZone(Zone).Date },
                Stage.ReturnUnrepaired => new StageFinished { Stage = Stage.ReturnUnrepaired },
                _ when chance.Next(4) == 0 => new StageFinished { Stage = Stage.Settlement },
                _ => null,
            };
            if (one is not null)
            {
                var id = new EventId("/desk/front", $"{label}/{++commands}");
                var decision = await house.Turn(turn => JobTurn.Decide(
                    turn, turn.History(label)!, new Incoming { Id = id, Job = label, Event = one, Effective = turn.Now, Received = turn.Now, Live = true }, "desk"));
                Note("desk", $"{label} {one.Type}: {Word.Of(decision.Outcome)}");
            }
        }
    }

    private QuoteSent Quote(Job job) => new()
    {
        Version = (job.Quotes.Newest?.Version ?? 0) + 1,
        Lines = [new QuoteLine { Text = "Full service", AmountMinor = 48000 }],
        Currency = "CHF",
        ValidThrough = Now.InZone(Zone).Date.PlusDays(chance.Next(0, 30)),
        WorkingDays = 20,
    };

    // ---- benches ----

    private Task Work(Tablet tablet)
    {
        if (!tablets.Contains(tablet))
        {
            return Task.CompletedTask;
        }

        Plan(WhenOpen(After(3, BenchWork.Pick(chance, 10, 40, 90))), () => Work(tablet));
        return Work(tablet, times: chance.Next(10) == 0 ? chance.Next(3, 9) : 1);
    }

    private async Task Work(Tablet tablet, int times)
    {
        for (; times > 0 && jobs.Count > 0; times--)
        {
            var label = BenchWork.Pick(chance, [.. jobs]);
            if (Now >= tablet.OfflineUntil && chance.Next(4) > 0 && await house.Reader.History(House.Site, label) is { Job: { } seen })
            {
                tablet.See(label, seen);
            }

            if (tablet.Believed(label) is not { } job)
            {
                continue;
            }

            var open = tablet.Open(label).ToArray();
            var stage = open.Length == 0 ? (Stage?)null : open[Math.Min(open.Length - 1, chance.Next(6) switch { < 4 => 0, 4 => 1, _ => 2 })];
            var work = chance.Next(5) == 0 || stage is null ? BenchWork.Mishap(job, tablet.Person, chance) : BenchWork.Of(stage.Value, job, tablet.Person, chance);
            foreach (var (type, data) in work)
            {
                Say(tablet, label, type, data);
            }

            if (stage is { } did && !(did == Stage.WearCheck && chance.Next(2) == 0))
            {
                tablet.Did(label, did);
            }
        }
    }

    private Task TwoReachForTheSamePiece()
    {
        Plan(WhenOpen(After(60, 300)), TwoReachForTheSamePiece);
        if (jobs.Count > 0)
        {
            var label = BenchWork.Pick(chance, [.. jobs]);
            var taken = BenchWork.Taken("nobody", chance);
            foreach (var tablet in tablets.Where(tablet => tablet != manager).OrderBy(_ => chance.Next()).Take(2))
            {
                Plan(InSeconds(0, 3), () =>
                {
                    Say(tablet, label, taken.Type, taken.Data.Replace("nobody", tablet.Person, StringComparison.Ordinal));
                    return Task.CompletedTask;
                });
            }
        }

        return Task.CompletedTask;
    }

    private void Say(Tablet tablet, string subject, string type, string data)
    {
        if (chance.Next(60) == 0)
        {
            Note(tablet.Name, $"loses its number {tablet.LoseOne()} for ever");
        }

        var said = tablet.Say(Now, type, subject, data);
        Told.Say(said);
        Note(tablet.Name, $"{said.Id.Id} {subject} {type} {data}");
        Plan(InSeconds(0, 4), () => Send(tablet));
    }

    // ---- the manager ----

    private async Task Manage()
    {
        Plan(WhenOpen(After(15, 90)), Manage);
        if (stops.Count > 0 && chance.Next(2) == 0)
        {
            var (job, gate) = BenchWork.Pick(chance, [.. stops]);
            stops.Clear();
            Say(manager, job, "waiver.given", $$"""{"gate":"{{gate}}","reason":"agreed by telephone","person":"vera"}""");
        }

        foreach (var label in jobs)
        {
            if (await house.Reader.History(House.Site, label) is not { Job: { } job })
            {
                continue;
            }

            if (job.Holds.Standing.FirstOrDefault() is { } hold && chance.Next(3) > 0)
            {
                Say(manager, label, "hold.lifted", $$"""{"hold":"{{Word.Of(hold.Reason)}}","person":"vera"}""");
            }

            if (!job.Reviews.IsEmpty && chance.Next(3) == 0)
            {
                var of = BenchWork.Pick(chance, job.Reviews.AsSpan()).Id;
                Say(manager, label, "report.settled", $$"""{"of":{"source":"{{of.Source}}","id":"{{of.Id}}"},"as":"{{BenchWork.Pick(chance, "happened", "did-not-happen")}}","reason":"asked at the bench","person":"vera"}""");
            }

            if (chance.Next(25) == 0 && Told.Said.Values.LastOrDefault(said => said.Subject == label.ToString() && said.Type != "correction.made") is { } wrong)
            {
                Say(manager, label, "correction.made", $$"""{"of":{"source":"{{wrong.Id.Source}}","id":"{{wrong.Id.Id}}"},"reason":"it was another watch","person":"vera"}""");
            }

            if (job.Standings.Current == Stage.FinalControl && chance.Next(3) > 0)
            {
                Say(manager, label, "final-control.passed", BenchWork.Control(job, "vera"));
            }
        }
    }

    // ---- tasks ----

    private async Task Sweep()
    {
        Plan(After(1, BenchWork.Pick(chance, 5, 20, 200)), Sweep);
        await house.Sweep();
        if (chance.Next(4) == 0)
        {
            // Twice, as two machines do, or an alarm clock that was set anew.
            await Task.WhenAll(house.Sweep(), house.Sweep());
        }
    }

    private async Task Release()
    {
        if (await house.Release() is { } next)
        {
            Plan(Instant.Max(next, Now) + Duration.FromMilliseconds(chance.Next(0, 3000)), Release);
        }
    }
}
