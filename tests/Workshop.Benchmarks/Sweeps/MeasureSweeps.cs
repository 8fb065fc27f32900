using System.CommandLine;
using System.Diagnostics;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Quotes;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;
using Workshop.Service.Tasks;

namespace Workshop.Benchmarks.Sweeps;

/// <summary>
/// <c>sweep</c>: saying ten things that have fallen due, among a million rows of the agenda that have not, against ten among a thousand.
/// </summary>
internal static class MeasureSweeps
{
    private const int Due = 10;
    private const int Rounds = 40;
    private const int WarmUp = 10;
    private const int Few = 1_000;
    private const int Many = 1_000_000;
    private const double RatioAllowed = 1.5;

    private const string Site = Migrations.FirstSite;

    private static readonly Instant Begins = Instant.FromUtc(2026, 3, 2, 9, 0);

    private const string FillSql = """
        insert into agenda (site, stream, kind, ref, due, task, wake, level, line)
        with recursive number(n) as (
            select 1
            union all
            select n + 1 from number where n < @rows)
        select @site, 'job/none-' || n, 'promise', 'promise', @later + n, @later + n, @later + n, 'due', 'Promised later'
        from number
        """;

    public static Command Command()
    {
        var command = new Command("sweep", "Ten due rows among a million of the agenda against ten among a thousand.");
        command.SetAction(async _ =>
        {
            var folder = Directory.CreateTempSubdirectory("sweep-");
            try
            {
                var few = await Measure(Path.Combine(folder.FullName, "few"), Few);
                var many = await Measure(Path.Combine(folder.FullName, "many"), Many);
                Say($"sweep: ratio {many / few:0.00} of {RatioAllowed:0.00}");
            }
            finally
            {
                folder.Delete(recursive: true);
            }

            return 0;
        });
        return command;
    }

    private static async Task<double> Measure(string path, int rows)
    {
        var storage = new StorageSettings { Path = path };
        await PreparedWorkshop.Make(storage, benches: 0, jobs: 0);
        using var database = new Database(storage);
        using var reader = new Reader(database);
        var clock = new SetClock { Now = Begins };
        using var writer = new Writer(database, clock, new WriterSettings(), NullLogger<Writer>.Instance);
        await writer.StartAsync(CancellationToken.None);
        var days = new List<LocalDate>();
        foreach (var round in Enumerable.Range(1, WarmUp + Rounds))
        {
            days.Add(await writer.Turn(Site, turn => Enumerable.Range(0, Due).Select(number => Promise(turn, round, number)).ToArray()[^1]));
        }

        await writer.Turn(Site, turn => turn.Execute(FillSql, new { site = Site, rows, later = Microseconds.Of(Begins + Duration.FromDays(10_000)) }));
        var zone = (await reader.Read(connection => ShopRulesReader.Read(connection, Site))).Calendar.Zone;
        var sweep = new SweepDue(clock, new AgendaStore(reader), writer, NullLogger<SweepDue>.Instance);
        var taken = new List<double>();
        foreach (var day in days)
        {
            // What has become overdue since the last round is said before, and not counted.
            clock.Now = zone.AtStartOfDay(day.PlusDays(1)).ToInstant() - Duration.FromMinutes(1);
            await sweep.Run(CancellationToken.None);
            clock.Now += Duration.FromMinutes(1);
            var before = await reader.QueryFirst<long>("select max(position) from journal");
            var begun = Stopwatch.GetTimestamp();
            await sweep.Run(CancellationToken.None);
            taken.Add(Stopwatch.GetElapsedTime(begun).TotalMicroseconds);
            var said = await reader.QueryFirst<long>("select max(position) from journal") - before;
            if (said != Due)
            {
                throw new InvalidOperationException($"{said} things were said on {day}, not {Due}.");
            }
        }

        await writer.StopAsync(CancellationToken.None);
        double[] sorted = [.. taken.Skip(WarmUp).Order()];
        Say($"{Due} due among {rows} rows: median {sorted[sorted.Length / 2]:0} µs, 95 of 100 within {sorted[(int)(0.95 * sorted.Length)]:0} µs");
        return sorted[sorted.Length / 2];
    }

    // Each round has a promised day of its own.
    private static LocalDate Promise(Turn turn, int round, int number)
    {
        var label = turn.DrawLabel(LabelKind.Job, drawn => StreamEntry.OfJob(drawn));
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        WorkshopEvent[] said =
        [
            new JobTakenIn { Variant = "full-automatic", Customer = $"c-{round}-{number}", Watch = $"w-{round}-{number}" },
            new QuoteSent { Version = 1, Currency = "CHF", Lines = [new QuoteLine { Text = "Full service", AmountMinor = 64_000 }], ValidThrough = today.PlusDays(30), WorkingDays = round },
            new QuoteAnswered { Version = 1, Accepted = true, Channel = AnswerChannel.Desk },
        ];
        foreach (var (i, one) in said.Index())
        {
            JobTurn.Decide(
                turn,
                turn.History(label) ?? new JobHistory(new Job { Label = label }, () => []),
                new Incoming
                {
                    Id = new EventId("/desk/front", $"{label}/{i}"),
                    Job = label,
                    Event = one,
                    Manner = new Manner { Despite = ["needs/diagnosis"] },
                    Effective = turn.Now,
                    Received = turn.Now,
                    Live = true,
                },
                role: "desk");
        }

        return turn.History(label)!.Job.Promise.On ?? throw new InvalidOperationException($"Nothing was promised for {label}.");
    }

    private static void Say(FormattableString line) => Console.WriteLine(FormattableString.Invariant(line));

    private sealed class SetClock : IClock
    {
        public Instant Now { get; set; }

        public Instant GetCurrentInstant() => Now;
    }
}
