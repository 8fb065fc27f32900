using System.Collections.Immutable;
using System.Data;
using System.Data.Common;
using System.Globalization;
using Dapper;
using NodaTime;
using Workshop.Core.Charts;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;

namespace Workshop.Service.Storage;

/// <summary>The rows of the tables <c>worn_rate</c> and <c>rate_mean</c>: folded from a job and written with it, so that a chart is read without folding every job.</summary>
internal static class RateRows
{
    private const string WornOfJobSql = """
        select job, source, id, at, bench, person, instrument, rate
        from worn_rate
        where site = @site
          and job = @job
        """;

    private const string MeansOfJobSql = """
        select job, source, id, at, bench, instrument, wind_state, cased, running, ground, mean, spread, rates
        from rate_mean
        where site = @site
          and job = @job
        """;

    // An empty name stands for any: it is none that a bench or an instrument has.
    private const string WornSinceSql = """
        select job, source, id, at, bench, person, instrument, rate
        from worn_rate
        where site = @site
          and at >= @since
          and (@bench = '' or bench = @bench)
          and (@instrument = '' or instrument = @instrument)
        order by at, job, source, id
        """;

    private const string SeriesSql = """
        select bench, instrument, count(*) as worn_checks, max(at) as last_at
        from worn_rate
        where site = @site
        group by bench, instrument
        """;

    private const string CountSinceSql = """
        select count(*)
        from worn_rate
        where site = @site
          and at >= @since
          and (@bench = '' or bench = @bench)
          and (@instrument = '' or instrument = @instrument)
        """;

    private const string MeansSinceSql = """
        select job, source, id, at, bench, instrument, wind_state, cased, running, ground, mean, spread, rates
        from rate_mean
        where site = @site
          and at >= @since
          and instrument is not null
        order by at, job, source, id
        """;

    private const string DropWornSql = """
        delete from worn_rate
        where site = @site
          and job = @job
        """;

    private const string DropMeansSql = """
        delete from rate_mean
        where site = @site
          and job = @job
        """;

    private const string SaveWornSql = """
        insert into worn_rate (site, job, source, id, at, bench, person, instrument, rate)
        values (@site, @job, @source, @id, @at, @bench, @person, @instrument, @rate)
        """;

    private const string SaveMeanSql = """
        insert into rate_mean (site, job, source, id, at, bench, instrument, wind_state, cased, running, ground, mean, spread, rates)
        values (@site, @job, @source, @id, @at, @bench, @instrument, @wind_state, @cased, @running, @ground, @mean, @spread, @rates)
        """;

    private static readonly HotSql DropWorn = new(DropWornSql, ("site", DbType.String), ("job", DbType.String));

    private static readonly HotSql DropMeans = new(DropMeansSql, ("site", DbType.String), ("job", DbType.String));

    private static readonly HotSql SaveWorn = new(SaveWornSql,
        ("site", DbType.String), ("job", DbType.String), ("source", DbType.String), ("id", DbType.String), ("at", DbType.Int64),
        ("bench", DbType.String), ("person", DbType.String), ("instrument", DbType.String), ("rate", DbType.String));

    private static readonly HotSql SaveMean = new(SaveMeanSql,
        ("site", DbType.String), ("job", DbType.String), ("source", DbType.String), ("id", DbType.String), ("at", DbType.Int64),
        ("bench", DbType.String), ("instrument", DbType.String), ("wind_state", DbType.String), ("cased", DbType.Int64), ("running", DbType.Int64),
        ("ground", DbType.Int64), ("mean", DbType.String), ("spread", DbType.String), ("rates", DbType.String));

    /// <summary>Writes a job's rows anew where they differ; they are few.</summary>
    /// <param name="saved">What the rows say; null where that is in doubt.</param>
    public static void Save(HotStatements statements, string site, Job job, RateLedger? saved)
    {
        var label = job.Label.ToString();
        if (saved?.Worn != job.Rates.Worn)
        {
            statements.Write(DropWorn, site, label);
            foreach (var one in job.Rates.Worn)
            {
                statements.Write(SaveWorn, site, label, one.Check.Source, one.Check.Id, Microseconds.Of(one.At), one.Bench, one.Person, one.Instrument, Text(one.RatePerDaySeconds));
            }
        }

        if (saved?.Means != job.Rates.Means)
        {
            statements.Write(DropMeans, site, label);
            foreach (var one in job.Rates.Means)
            {
                statements.Write(SaveMean,
                    site, label, one.Set.Source, one.Set.Id, Microseconds.Of(one.At), one.Bench, one.Instrument, one.WindState is { } wind ? Word.Of(wind) : null,
                    one.Cased is { } cased ? cased ? 1L : 0L : null, one.Running ? 1L : 0L, (long)one.Ground, Text(one.MeanPerDaySeconds), Text(one.SpreadPerDaySeconds),
                    string.Join(' ', one.Rates.Select(at => $"{Word.Of(at.Key)}={Text(at.Value)}")));
            }
        }
    }

    public static ImmutableArray<WornRate> WornOf(DbConnection connection, string site, Label job) =>
        [.. connection.Query<WornRow>(WornOfJobSql, new { site, job = job.ToString() }).AsList().Select(row => row.Read())];

    public static ImmutableArray<RateMean> MeansOf(DbConnection connection, string site, Label job) =>
        [.. connection.Query<MeanRow>(MeansOfJobSql, new { site, job = job.ToString() }).AsList().Select(row => row.Read())];

    /// <summary>Worn rates of a series from a moment on, oldest first.</summary>
    public static ImmutableArray<(Label Job, WornRate Rate)> Worn(DbConnection connection, string site, ChartSeries series, Instant? since) =>
        [.. connection.Query<WornRow>(WornSinceSql, new { site, since = From(since), bench = series.Bench ?? "", instrument = series.Instrument ?? "" }).AsList().Select(row => (Label.Read(row.Job), row.Read()))];

    /// <summary>How many worn rates a series has from a moment on.</summary>
    public static int Count(DbConnection connection, string site, ChartSeries series, Instant? since) =>
        (int)connection.QuerySingle<long>(CountSinceSql, new { site, since = From(since), bench = series.Bench ?? "", instrument = series.Instrument ?? "" });

    /// <summary>Every bench with every instrument that worn checks were told of, with their number and when the newest was read.</summary>
    public static IReadOnlyList<SeriesRow> Series(DbConnection connection, string site) => connection.Query<SeriesRow>(SeriesSql, new { site }).AsList();

    /// <summary>Rate sets that name an instrument, from a moment on, oldest first.</summary>
    public static IEnumerable<MeanOfJob> Means(DbConnection connection, string site, Instant since) =>
        connection.Query<MeanRow>(MeansSinceSql, new { site, since = Microseconds.Of(since) }).AsList().Select(row => new MeanOfJob(Label.Read(row.Job), row.Read()));

    private static long From(Instant? since) => Microseconds.Of(since) ?? long.MinValue;

    private static string Text(decimal figure) => figure.ToString(CultureInfo.InvariantCulture);

    private static decimal Figure(string text) => decimal.Parse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture);

    internal sealed record SeriesRow
    {
        public string? Bench { get; init; }

        public string? Instrument { get; init; }

        public required long WornChecks { get; init; }

        public required long LastAt { get; init; }
    }

    private sealed record WornRow
    {
        public required string Job { get; init; }

        public required string Source { get; init; }

        public required string Id { get; init; }

        public required long At { get; init; }

        public string? Bench { get; init; }

        public string? Person { get; init; }

        public string? Instrument { get; init; }

        public required string Rate { get; init; }

        public WornRate Read() => new(new EventId(Source, Id), Microseconds.Read(At), Bench, Person, Instrument, Figure(Rate));
    }

    private sealed record MeanRow
    {
        public required string Job { get; init; }

        public required string Source { get; init; }

        public required string Id { get; init; }

        public required long At { get; init; }

        public string? Bench { get; init; }

        public string? Instrument { get; init; }

        public string? WindState { get; init; }

        public long? Cased { get; init; }

        public required long Running { get; init; }

        public required long Ground { get; init; }

        public required string Mean { get; init; }

        public required string Spread { get; init; }

        public required string Rates { get; init; }

        public RateMean Read() => new(
            new EventId(Source, Id), Microseconds.Read(At), Bench, Instrument, Word.Read<WindState>(WindState), Cased is { } cased ? cased == 1 : null, Running == 1, (int)Ground,
            Figure(Mean), Figure(Spread),
            Rates.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(one => one.Split('=')).ToImmutableSortedDictionary(one => Word.Read<Position>(one[0])!.Value, one => Figure(one[1])));
    }
}
