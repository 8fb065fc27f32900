using System.Data.Common;
using Dapper;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Watches;

/// <summary>What a register of stolen watches says of one, as the table keeps it. Moments in microseconds.</summary>
public sealed record StoredRegisterHit
{
    public required string Register { get; init; }

    public string? Text { get; init; }

    public required long ToldAt { get; init; }

    public long? ClearedAt { get; init; }

    public string? Reason { get; init; }
}

/// <summary>The table <c>register_hit</c>: for managers alone.</summary>
public static class RegisterHitStore
{
    /// <summary>What the hold says; only managers read it.</summary>
    public const string HoldReason = "a register names this watch: do not hand it back, do not accuse";

    private const string FindSql = """
        select register, text, told_at, cleared_at, reason
        from register_hit
        where site = @site
          and watch = @watch
        """;

    private const string PutSql = """
        insert into register_hit (site, watch, register, text, told_at, told_by)
        values (@site, @watch, @register, @text, @told_at, @told_by)
        on conflict (site, watch) do update
        set register = excluded.register,
            text = excluded.text,
            told_at = excluded.told_at,
            told_by = excluded.told_by,
            cleared_at = null,
            reason = null
        """;

    private const string ClearSql = """
        update register_hit
        set cleared_at = @now,
            reason = @reason
        where site = @site
          and watch = @watch
        """;

    public static StoredRegisterHit? Find(DbConnection connection, string site, string watch) => connection.QueryFirstOrDefault<StoredRegisterHit>(FindSql, new { site, watch });

    public static StoredRegisterHit? Find(Turn turn, string watch) => turn.QueryFirst<StoredRegisterHit>(FindSql, new { site = turn.Site, watch });

    public static void Put(Turn turn, string watch, string register, string? text, string by) =>
        turn.Execute(PutSql, new { site = turn.Site, watch, register, text, told_at = Microseconds.Of(turn.Now), told_by = by });

    public static void Clear(Turn turn, string watch, string? reason) =>
        turn.Execute(ClearSql, new { site = turn.Site, watch, now = Microseconds.Of(turn.Now), reason });
}
