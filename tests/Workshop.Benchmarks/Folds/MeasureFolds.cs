using System.CommandLine;
using System.Diagnostics;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Shop;
using Workshop.Service.Storage;

namespace Workshop.Benchmarks.Folds;

/// <summary>
/// <c>fold</c>: what it costs to compute a job from its entries, and to decide and fold one more entry behind them, against what a
/// bench may be kept waiting for it.
/// </summary>
internal static class MeasureFolds
{
    private const int EntriesFolded = 500;
    private const double RefoldAllowedMicroseconds = 1_000;
    private const double EventAllowedMicroseconds = 50;

    /// <summary>Decisions about a job that is long already; what a short one costs is less.</summary>
    private const int LongFromVersion = 300;

    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(2);
    private const int RefoldsMeasured = 400;
    private const int TimesMeasured = 101;
    private const int AtOnce = 10;

    public static Command Command()
    {
        var command = new Command("fold", "Refolding a long job, and one more event on a folded one, against the time they may take.");
        command.SetAction(async _ =>
        {
            Measure(await ShippedRules());
            return 0;
        });
        return command;
    }

    private static void Measure(ShopRules rules)
    {
        var life = new LongLife(rules, EntriesFolded);
        Entry[] entries = [.. life.Entries.Take(EntriesFolded)];
        var label = life.Job.Label;
        Say($"one job of full-automatic by the rules that are shipped: {life.Entries.Count} entries from intake to hand-over, {life.Entries.Count(one => one.Has(EntryFlag.Late))} late, {life.Entries.Count(one => !one.Counts)} noted");
        Say($"the first {entries.Length}: {string.Join(", ", entries.CountBy(one => one.Event.Type).OrderByDescending(of => of.Value).Select(of => $"{of.Value} {of.Key}"))}");

        Repeat(WarmUp, () => Job.Replay(label, entries));
        var refold = Median(RefoldsMeasured, () => Job.Replay(label, entries));
        Say($"refold: {entries.Length} entries in memory, put in order and folded: median of {RefoldsMeasured} is {refold:0} µs");

        // Whoever asks for the entries has fallen back to a replay: then nothing in order was measured.
        Asked[] asked = [.. life.InOrder.Where(one => one.Job.Version >= LongFromVersion)];
        Repeat(WarmUp, () => Array.ForEach(asked, one => Decide(one)));
        (string Type, double Microseconds)[] each = [.. asked.Select(one => (one.Incoming.Event.Type, Median(TimesMeasured, () => Decide(one), AtOnce)))];
        var perEvent = Quantile([.. each.Select(one => one.Microseconds)], 0.5);
        var dearest = each.GroupBy(one => one.Type).Select(type => (Type: type.Key, Microseconds: Quantile([.. type.Select(one => one.Microseconds)], 0.5))).MaxBy(type => type.Microseconds);
        Say($"in order: {asked.Length} events of that life, each decided and folded on the job of {LongFromVersion} entries or more that it met: median {perEvent:0.0} µs; 95 of 100 within {Quantile([.. each.Select(one => one.Microseconds)], 0.95):0.0} µs");
        Say($"in order: the dearest type is {dearest.Type}, median {dearest.Microseconds:0.0} µs");
        Say($"fold: refold = {refold / RefoldAllowedMicroseconds:0.00} of {RefoldAllowedMicroseconds:0} µs, in order = {perEvent / EventAllowedMicroseconds:0.00} of {EventAllowedMicroseconds:0} µs (dearest type {dearest.Microseconds / EventAllowedMicroseconds:0.00})");
        Say($"fold: ratio {Math.Max(refold / RefoldAllowedMicroseconds, perEvent / EventAllowedMicroseconds):0.00}");
    }

    private static Decision Decide(Asked asked) => JobRules.Decide(
        new JobHistory(asked.Job, () => throw new InvalidOperationException($"{asked.Incoming.Event.Type} is in order and asked for all entries.")), asked.Incoming, asked.Facts);

    private static void Repeat(TimeSpan span, Action what)
    {
        for (var begun = Stopwatch.GetTimestamp(); Stopwatch.GetElapsedTime(begun) < span;)
        {
            what();
        }
    }

    /// <summary>Microseconds of one, the median over so many measurements.</summary>
    /// <param name="atOnce">Done so often within one measurement: the clock is too coarse for one.</param>
    private static double Median<T>(int measurements, Func<T> what, int atOnce = 1)
    {
        var taken = new double[measurements];
        for (var i = 0; i < measurements; i++)
        {
            var begun = Stopwatch.GetTimestamp();
            for (var j = 0; j < atOnce; j++)
            {
                GC.KeepAlive(what());
            }

            taken[i] = Stopwatch.GetElapsedTime(begun).TotalMicroseconds / atOnce;
        }

        return Quantile(taken, 0.5);
    }

    private static double Quantile(double[] values, double part)
    {
        double[] sorted = [.. values.Order()];
        return sorted[(int)Math.Min(sorted.Length - 1, part * sorted.Length)];
    }

    /// <summary>The rules a new workshop begins with.</summary>
    private static async Task<ShopRules> ShippedRules()
    {
        var folder = Directory.CreateTempSubdirectory("fold-");
        try
        {
            var storage = new StorageSettings { Engine = StorageEngine.Sqlite, Path = folder.FullName };
            await PreparedWorkshop.Make(storage, benches: 0, jobs: 0);
            using var database = new Database(storage);
            using var reader = new Reader(database);
            return await reader.Read(connection => ShopRulesReader.Read(connection, Migrations.FirstSite));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static void Say(FormattableString line) => Console.WriteLine(FormattableString.Invariant(line));
}
