using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Outgoing;

/// <summary>What was last said outside of where a watch is.</summary>
public sealed record PublicWord
{
    /// <summary>How often it was said.</summary>
    public required long Number { get; init; }

    public required string Stage { get; init; }

    public required string WaitingOn { get; init; }

    /// <summary>The newest version of the quote of which it was said that it had run out.</summary>
    public long? ExpiredQuote { get; init; }

    /// <summary>When time alone may change it, in microseconds; null where it cannot.</summary>
    public long? LookAgain { get; init; }
}

/// <summary>The table <c>public_word</c>: the memory by which nothing is said twice.</summary>
internal static class PublicWords
{
    private const string FindSql = """
        select number, stage, waiting_on, expired_quote, look_again
        from public_word
        where site = @site
          and job = @job
        """;

    private const string SaveSql = """
        insert into public_word (site, job, number, stage, waiting_on, expired_quote, look_again)
        values (@site, @job, @number, @stage, @waiting_on, @expired_quote, @look_again)
        on conflict (site, job) do update
        set number = excluded.number,
            stage = excluded.stage,
            waiting_on = excluded.waiting_on,
            expired_quote = excluded.expired_quote,
            look_again = excluded.look_again
        """;

    private const string WaitingSql = """
        select job
        from public_word
        where site = @site
          and look_again <= @now
        order by look_again, job
        limit @limit
        """;

    public static PublicWord? Find(Turn turn, Label job) => turn.QueryFirst<PublicWord>(FindSql, new { site = turn.Site, job = job.ToString() });

    public static void Save(Turn turn, Label job, PublicWord word) => turn.Execute(SaveSql, new
    {
        site = turn.Site,
        job = job.ToString(),
        number = word.Number,
        stage = word.Stage,
        waiting_on = word.WaitingOn,
        expired_quote = word.ExpiredQuote,
        look_again = word.LookAgain,
    });

    /// <summary>The jobs that time alone may have changed, at most so many.</summary>
    public static IReadOnlyList<Label> Waiting(Turn turn, int limit) =>
        [.. turn.Query<string>(WaitingSql, new { site = turn.Site, now = Microseconds.Of(turn.Now), limit }).Select(Label.Read)];
}
