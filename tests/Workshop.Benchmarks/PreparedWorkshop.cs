using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;

namespace Workshop.Benchmarks;

/// <summary>A watch whose quote was accepted: the benches may begin.</summary>
public sealed record ReadyJob(Label Label, string CaseSerial, string MovementNumber);

/// <summary>A bench that may post, with the key it speaks by.</summary>
public sealed record KeyedBench(string Name, string Source, string Key);

/// <summary>
/// A workshop made ready before its service is started: migrated, with people, keys and watches whose quotes were accepted. What is
/// measured or tried out afterwards goes through the service alone.
/// </summary>
public sealed class PreparedWorkshop
{
    /// <summary>Who works and who controls.</summary>
    public static readonly string[] People = ["mara", "jonas"];

    private const string Site = Migrations.FirstSite;
    private const int JobsInATurn = 20;

    private PreparedWorkshop(StorageSettings storage, IReadOnlyList<KeyedBench> benches, IReadOnlyList<ReadyJob> jobs) =>
        (Storage, Benches, Jobs) = (storage, benches, jobs);

    public StorageSettings Storage { get; }

    public IReadOnlyList<KeyedBench> Benches { get; }

    public IReadOnlyList<ReadyJob> Jobs { get; }

    /// <summary>Makes it, in an empty folder or database.</summary>
    public static async Task<PreparedWorkshop> Make(StorageSettings storage, int benches, int jobs)
    {
        var clock = SystemClock.Instance;
        using var database = new Database(storage);
        new Migrations(database, clock, new ShopSettings(), NullLogger<Migrations>.Instance).Run();
        using var reader = new Reader(database);
        var keys = new ApiKeys(database, reader);
        KeyedBench[] keyed =
        [
            .. Enumerable.Range(1, benches).Select(i => $"bench-{i}").Select(name =>
                new KeyedBench(name, $"/devices/{name}/1", keys.Add(Site, $"/devices/{name}/1", "bench", name, clock.GetCurrentInstant()).Secret)),
        ];

        using var writer = new Writer(database, clock, new WriterSettings(), NullLogger<Writer>.Instance);
        await writer.StartAsync(CancellationToken.None);
        await writer.Turn(Site, HirePeople);
        var made = new List<ReadyJob>(jobs);
        foreach (var numbers in Enumerable.Range(1, jobs).Chunk(JobsInATurn))
        {
            made.AddRange(await writer.Turn(Site, turn => numbers.Select(number => TakeIn(turn, number)).ToArray()));
        }

        await writer.StopAsync(CancellationToken.None);
        return new PreparedWorkshop(storage, keyed, made);
    }

    private static void HirePeople(Turn turn)
    {
        foreach (var id in People)
        {
            ShopDocuments.Put(turn, "people", id, $$"""{"id":"{{id}}","name":"{{id}}","manager":false}""");
        }
    }

    private static ReadyJob TakeIn(Turn turn, int number)
    {
        var label = turn.DrawLabel(LabelKind.Job, drawn => StreamEntry.OfJob(drawn));
        var job = new ReadyJob(label, $"C {number}", $"M {number}");
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        WorkshopEvent[] upToTheBenches =
        [
            new JobTakenIn { Variant = "full-automatic", Customer = $"c-{number}", Watch = $"w-{number}", CaseSerial = job.CaseSerial, MovementNumber = job.MovementNumber },
            new StageFinished { Stage = Stage.Diagnosis },
            new QuoteSent { Version = 1, Currency = "CHF", Lines = [new QuoteLine { Text = "Full service", AmountMinor = 64_000 }], ValidThrough = today.PlusDays(30), WorkingDays = 20 },
            new QuoteAnswered { Version = 1, Accepted = true, Channel = AnswerChannel.Desk },
        ];
        foreach (var (i, one) in upToTheBenches.Index())
        {
            var decision = JobTurn.Decide(
                turn,
                turn.History(label) ?? new JobHistory(new Job { Label = label }, () => []),
                new Incoming
                {
                    Id = new EventId("/desk/front", $"{label}/{i}"),
                    Job = label,
                    Event = one,
                    Effective = turn.Now,
                    Received = turn.Now,
                    Live = true,
                },
                role: "desk");
            if (decision.Outcome != Outcome.Accepted)
            {
                throw new InvalidOperationException($"The desk's {one.Type} was {decision.Outcome}: {string.Join("; ", decision.Against.Select(against => against.Line))}");
            }
        }

        return job;
    }
}
