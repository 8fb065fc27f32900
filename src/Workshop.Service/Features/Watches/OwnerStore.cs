using System.Data.Common;
using Dapper;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Watches;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Watches;

/// <summary>An owner of a watch as the table keeps one.</summary>
public sealed record StoredOwner
{
    /// <summary>1, 2, 3 … in the order in which they were told.</summary>
    public required long Number { get; init; }

    public required string CustomerId { get; init; }

    /// <summary>YYYY-MM-DD.</summary>
    public required string FromDay { get; init; }

    public required string How { get; init; }

    /// <summary>Microseconds.</summary>
    public required long ToldAt { get; init; }
}

/// <summary>The table <c>watch_owner</c>. A watch nobody told an owner of belongs to whoever brought it.</summary>
public static class OwnerStore
{
    private const string AllSql = """
        select number, customer_id, from_day, how, told_at
        from watch_owner
        where site = @site
          and watch = @watch
        order by from_day, number
        """;

    private const string AddSql = """
        insert into watch_owner (site, watch, number, customer_id, from_day, how, told_at)
        values (@site, @watch, @number, @customer_id, @from_day, @how, @told_at)
        """;

    /// <summary>The one who owned it first at the beginning.</summary>
    public static IReadOnlyList<StoredOwner> All(DbConnection connection, string site, string watch) => connection.Query<StoredOwner>(AllSql, new { site, watch }).AsList();

    public static IReadOnlyList<StoredOwner> All(Turn turn, string watch) => turn.Query<StoredOwner>(AllSql, new { site = turn.Site, watch });

    /// <summary>Whether it has gone to somebody else since a day: letters to whoever had it then have lost their reason.</summary>
    /// <param name="customer">Who had it.</param>
    public static bool IsSoldSince(Turn turn, string watch, string customer, LocalDate since) =>
        All(turn, watch) is [.., var last] && last.CustomerId != customer && string.CompareOrdinal(last.FromDay, LocalDatePattern.Iso.Format(since)) >= 0;

    public static void Add(Turn turn, string watch, string customer, LocalDate from, HowOwned how) => turn.Execute(AddSql, new
    {
        site = turn.Site,
        watch,
        number = All(turn, watch).Select(one => one.Number).DefaultIfEmpty().Max() + 1,
        customer_id = customer,
        from_day = LocalDatePattern.Iso.Format(from),
        how = Word.Of(how),
        told_at = Microseconds.Of(turn.Now),
    });
}
