using System.Collections.Immutable;
using System.Data.Common;
using Dapper;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>A job that was found, with what it may have been found by.</summary>
public sealed record FoundJobRow
{
    public required string Label { get; init; }

    public string? Stage { get; init; }

    public string? Variant { get; init; }

    public long? TakenInAt { get; init; }

    public required long Closed { get; init; }

    public string? OwnNumber { get; init; }

    public string? OwnNumberKey { get; init; }

    public string? CaseSerialKey { get; init; }

    public string? MovementNumberKey { get; init; }

    public string? CustomerId { get; init; }

    public string? Name { get; init; }

    public string? TelephoneReversed { get; init; }

    public string? Maker { get; init; }

    public string? Model { get; init; }

    public string? Reference { get; init; }

    public string? WatchCaseSerialKey { get; init; }

    public string? WatchMovementNumberKey { get; init; }
}

/// <summary>Leads from what somebody knows to jobs, each way along an index; what fits best is seen afterwards.</summary>
public static class SearchStore
{
    /// <summary>Customers that share most with the name that is sought, or watches with such a part of a number; the newest where there are more.</summary>
    private const int CandidatesAtMost = 150;

    /// <summary>A gram that leads to fewer customers tells one name from another.</summary>
    private const int Rare = 1_500;

    /// <summary>Grams that are used although they are common, where there are no others.</summary>
    private const int CommonAtMost = 3;

    /// <summary>The rarest that are used: further ones say little more of a name and cost as much again.</summary>
    private const int TellingAtMost = 9;

    /// <summary>Jobs looked at, one way.</summary>
    private const int RowsAtMost = 500;

    /// <summary>Digits that two forms of one telephone number share at their end, with the country before them or without.</summary>
    private const int TelephoneTail = 7;

    /// <summary>Grams that are looked up; the first ones of a longer text lead there as well.</summary>
    private const int GramsAtMost = 24;

    private const string Shown = """
        job.label, job.stage, job.variant, job.taken_in_at, job.closed, job.own_number, job.own_number_key, job.case_serial_key,
               job.movement_number_key, job.customer_id, customer.name, customer.telephone_reversed, watch.maker, watch.model, watch.reference,
               watch.case_serial_key as watch_case_serial_key, watch.movement_number_key as watch_movement_number_key
        """;

    private const string Beside = """
        left join customer on customer.site = job.site and customer.id = job.customer_id
        left join watch on watch.site = job.site and watch.id = job.watch_id
        """;

    private const string Grams = """
        @g0, @g1, @g2, @g3, @g4, @g5, @g6, @g7, @g8, @g9, @g10, @g11, @g12, @g13, @g14, @g15, @g16, @g17, @g18, @g19, @g20, @g21, @g22, @g23
        """;

    // How many each gram leads to, counted no further than to where it is common.
    private const string HowRareSql = """
        select said.at, (select count(*) from (select 1 from gram where gram.site = @site and gram.kind = 'name' and gram.gram = said.gram limit @rare) as candidates) as leads_to
        from (
            select 0 as at, cast(@g0 as text) as gram
            union all select 1 as at, cast(@g1 as text) as gram
            union all select 2 as at, cast(@g2 as text) as gram
            union all select 3 as at, cast(@g3 as text) as gram
            union all select 4 as at, cast(@g4 as text) as gram
            union all select 5 as at, cast(@g5 as text) as gram
            union all select 6 as at, cast(@g6 as text) as gram
            union all select 7 as at, cast(@g7 as text) as gram
            union all select 8 as at, cast(@g8 as text) as gram
            union all select 9 as at, cast(@g9 as text) as gram
            union all select 10 as at, cast(@g10 as text) as gram
            union all select 11 as at, cast(@g11 as text) as gram
            union all select 12 as at, cast(@g12 as text) as gram
            union all select 13 as at, cast(@g13 as text) as gram
            union all select 14 as at, cast(@g14 as text) as gram
            union all select 15 as at, cast(@g15 as text) as gram
            union all select 16 as at, cast(@g16 as text) as gram
            union all select 17 as at, cast(@g17 as text) as gram
            union all select 18 as at, cast(@g18 as text) as gram
            union all select 19 as at, cast(@g19 as text) as gram
            union all select 20 as at, cast(@g20 as text) as gram
            union all select 21 as at, cast(@g21 as text) as gram
            union all select 22 as at, cast(@g22 as text) as gram
            union all select 23 as at, cast(@g23 as text) as gram) as said
        where said.gram is not null
        order by said.at
        """;

    private const string ByLabelSql = $"""
        select {Shown}
        from job
        {Beside}
        where job.site = @site
          and job.label = @label
        """;

    private const string BySerialSql = $"""
        select {Shown}
        from job
        {Beside}
        where job.site = @site
          and (job.case_serial_key = @serial or job.movement_number_key = @serial)
        limit @rows
        """;

    private const string ByOwnNumberSql = $"""
        select {Shown}
        from job
        {Beside}
        where job.site = @site
          and job.own_number_key >= @own_number
          and job.own_number_key < @behind
        order by job.own_number_key
        limit @rows
        """;

    private const string ByTelephoneSql = $"""
        select {Shown}
        from customer
        join job on job.site = customer.site and job.customer_id = customer.id
        left join watch on watch.site = job.site and watch.id = job.watch_id
        where customer.site = @site
          and customer.telephone_reversed >= @tail
          and customer.telephone_reversed < @behind
        limit @rows
        """;

    // The newest among those that share as much: ids sort by when they were made.
    private const string ByNameSql = $"""
        select {Shown}
        from (
            select id, count(*) as shared
            from gram
            where site = @site
              and kind = 'name'
              and gram in ({Grams})
            group by id
            having count(*) >= @at_least
            order by shared desc, id desc
            limit @candidates) as candidates
        cross join customer
        join job on job.site = customer.site and job.customer_id = customer.id
        left join watch on watch.site = job.site and watch.id = job.watch_id
        where customer.site = @site
          and customer.id = candidates.id
        """;

    private const string ByPartOfNumberSql = $"""
        select {Shown}
        from (
            select id, count(*) as shared
            from gram
            where site = @site
              and kind = 'number'
              and gram in ({Grams})
            group by id
            having count(*) >= @at_least
            order by shared desc, id desc
            limit @candidates) as candidates
        cross join watch
        join job on job.site = watch.site and job.watch_id = watch.id
        left join customer on customer.site = job.site and customer.id = job.customer_id
        where watch.site = @site
          and watch.id = candidates.id
        """;

    private const string OthersWithOwnNumberSql = """
        select label
        from job
        where site = @site
          and own_number_key = @own_number
          and label <> @not_this
        order by label
        limit 20
        """;

    public static IReadOnlyList<FoundJobRow> ByLabel(DbConnection connection, string site, string label) =>
        connection.Query<FoundJobRow>(ByLabelSql, new { site, label }).AsList();

    /// <summary>By any label of a watch or of one of its pieces.</summary>
    public static string JobBehind(DbConnection connection, string site, Label label) =>
        connection.QueryFirstOrDefault<LabelRow>(Storage.Labels.FindSql, new { label = label.ToString() }) is { } row && row.Site == site && LabelRow.JobOf(row.Names) is { } job
            ? job.ToString()
            : label.ToString();

    /// <param name="key">As numbers on metal are compared; whole.</param>
    public static IReadOnlyList<FoundJobRow> BySerial(DbConnection connection, string site, string key) =>
        connection.Query<FoundJobRow>(BySerialSql, new { site, serial = key, rows = RowsAtMost }).AsList();

    /// <summary>By a part of a number; none where it is shorter than three characters.</summary>
    public static IReadOnlyList<FoundJobRow> ByPartOfNumber(DbConnection connection, string site, string key)
    {
        ImmutableArray<string> grams = [.. Core.Search.Trigrams.OfNumber(key).Take(GramsAtMost)];
        return grams.IsEmpty ? [] : Near(connection, ByPartOfNumberSql, site, grams, atLeast: grams.Length);
    }

    /// <param name="key">The number of the paper book, or how it begins.</param>
    public static IReadOnlyList<FoundJobRow> ByOwnNumber(DbConnection connection, string site, string key) =>
        connection.Query<FoundJobRow>(ByOwnNumberSql, new { site, own_number = key, behind = Behind(key), rows = RowsAtMost }).AsList();

    /// <param name="reversed">From its last digit to its first.</param>
    public static IReadOnlyList<FoundJobRow> ByTelephone(DbConnection connection, string site, string reversed)
    {
        var tail = reversed.Length > TelephoneTail ? reversed[..TelephoneTail] : reversed;
        return connection.Query<FoundJobRow>(ByTelephoneSql, new { site, tail, behind = Behind(tail), rows = RowsAtMost }).AsList();
    }

    /// <summary>By a name as it sounds: a third of its grams is enough to be looked at, of those that are not everybody's.</summary>
    public static IReadOnlyList<FoundJobRow> ByName(DbConnection connection, string site, ImmutableArray<string> words)
    {
        var grams = Telling(connection, site, [.. Core.Search.Trigrams.OfWords(words).Take(GramsAtMost)]);
        return grams.IsEmpty ? [] : Near(connection, ByNameSql, site, grams, atLeast: Math.Max(1, grams.Length / 3));
    }

    /// <summary>Other jobs with this number of the paper book.</summary>
    public static ImmutableArray<Label> OthersWithOwnNumber(Turn turn, string? ownNumber, Label notThis) =>
        Core.Casing.WatchNumber.Key(ownNumber) is { } key
            ? [.. turn.Query<string>(OthersWithOwnNumberSql, new { site = turn.Site, own_number = key, not_this = notThis.ToString() }).Select(Label.Read)]
            : [];

    // A beginning that a quarter of the town shares says little and costs most; where all are such, the first ones have to do.
    private static ImmutableArray<string> Telling(DbConnection connection, string site, ImmutableArray<string> grams)
    {
        var leadTo = Query<GramCount>(connection, HowRareSql, Asked(site, grams, ("rare", Rare)))
            .Select(one => (Gram: grams[(int)one.At], one.LeadsTo))
            .Where(one => one.LeadsTo > 0)
            .OrderBy(one => one.LeadsTo)
            .ToArray();
        return [.. leadTo.Where((one, i) => one.LeadsTo < Rare || i < CommonAtMost).Take(TellingAtMost).Select(one => one.Gram)];
    }

    private static DynamicParameters Asked(string site, ImmutableArray<string> grams, params ReadOnlySpan<(string Name, long Value)> besides)
    {
        var asked = new DynamicParameters(new { site });
        foreach (var (name, value) in besides)
        {
            asked.Add(name, value);
        }

        for (var i = 0; i < GramsAtMost; i++)
        {
            asked.Add($"g{i}", i < grams.Length ? grams[i] : null, System.Data.DbType.String);
        }

        return asked;
    }

    private static List<FoundJobRow> Near(DbConnection connection, string sql, string site, ImmutableArray<string> grams, int atLeast) =>
        Query<FoundJobRow>(connection, sql, Asked(site, grams, ("at_least", atLeast), ("candidates", CandidatesAtMost)));

    private static List<T> Query<T>(DbConnection connection, string sql, DynamicParameters asked) => connection.Query<T>(sql, asked).AsList();

    // The first text behind all that begin with this one; keys hold no character beyond.
    private static string Behind(string beginning) => beginning + '\uffff';

    /// <summary>How many one of the grams that were asked for leads to.</summary>
    private sealed record GramCount
    {
        public required long At { get; init; }

        public required long LeadsTo { get; init; }
    }
}
