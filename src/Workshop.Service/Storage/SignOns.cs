using System.Data;
using System.Data.Common;
using NodaTime;

namespace Workshop.Service.Storage;

/// <summary>Who is at a place by having signed on there.</summary>
/// <param name="Since">When they signed on.</param>
/// <param name="Until">The end of that day in the workshop's calendar.</param>
/// <param name="Proof">When the proof that they told had been given out; null where they told none, or not the right one.</param>
public sealed record SignedOn(string Person, Instant Since, Instant Until, Instant? Proof);

/// <summary>The table <c>sign_on</c>.</summary>
internal static class SignOns
{
    internal const string AtSql = """
        select person, effective, until, proof
        from sign_on
        where site = @site
          and source = @source
          and effective <= @effective
          and (effective < @effective or order_sequence < @order_sequence)
        order by effective desc, order_sequence desc, id desc
        limit 1
        """;

    internal const string PutSql = """
        insert into sign_on (site, source, effective, order_sequence, id, person, until, proof)
        values (@site, @source, @effective, @order_sequence, @id, @person, @until, @proof)
        on conflict (site, source, effective, order_sequence, id) do nothing
        """;

    internal static readonly HotSql At = new(AtSql,
        ("site", DbType.String), ("source", DbType.String), ("effective", DbType.Int64), ("order_sequence", DbType.Int64));

    /// <summary>The person at that place, unless the last word before was a signing off, or of another day.</summary>
    internal static SignedOn? Read(DbDataReader reader, long effective) =>
        !reader.Read() || reader.IsDBNull(0) || reader.GetInt64(2) <= effective ? null
        : new SignedOn(
            reader.GetString(0), Microseconds.Read(reader.GetInt64(1)), Microseconds.Read(reader.GetInt64(2)),
            reader.IsDBNull(3) ? null : Microseconds.Read(reader.GetInt64(3)));
}
