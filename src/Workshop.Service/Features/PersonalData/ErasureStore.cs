using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PersonalData;

/// <summary>An entry whose text may have to go.</summary>
public sealed record ErasableEntry
{
    public required long Position { get; init; }

    public required string Type { get; init; }

    public required string Data { get; init; }
}

/// <summary>Takes out of the tables what names a person. The chain of hashes goes over digests and stays as it is.</summary>
internal static class ErasureStore
{
    private const string ErasedSql = """
        select erased
        from customer
        where site = @site
          and id = @customer
        """;

    private const string JobsSql = """
        select label
        from job
        where site = @site
          and customer_id = @customer
        order by label
        """;

    private const string EntriesSql = """
        select position, type, data
        from journal
        where site = @site
          and stream = @stream
        order by position
        """;

    private const string EraseEntrySql = """
        update journal
        set data = @data,
            salt = null
        where site = @site
          and position = @position
        """;

    private const string EraseCustomerSql = """
        update customer
        set name = '',
            telephone = null,
            email = null,
            address = null,
            addresses = '[]',
            unreachable = '[]',
            language = null,
            consents = '{}',
            contact = 'none',
            contact_by = null,
            erased = @now,
            version = version + 1
        where site = @site
          and id = @customer
        """;

    // Answers that were kept for repeats hold what was asked of them.
    private const string ForgetAnswersSql = """
        delete from idempotency
        where site = @site
          and body like @customer
        """;

    // A letter that was handed on to be sent names whom it is for; what is erased is sent to nobody any more, and not again.
    private const string ForgetLettersSql = """
        update outbox
        set body = '{}',
            done = coalesce(done, @now)
        where site = @site
          and stream = @stream
          and type = 'message.due'
        """;

    private const string ForgetRefusedSql = """
        update received
        set body = null
        where site = @site
          and state = 'refused'
          and body is not null
          and received < @before
        """;

    private const string DueSql = """
        select customer.id
        from customer
        where customer.site = @site
          and customer.erased is null
          and customer.created < @before
          and exists (select 1 from job where job.site = customer.site and job.customer_id = customer.id)
          and not exists (select 1 from job where job.site = customer.site and job.customer_id = customer.id and (job.in_house = 1 or job.taken_in_at >= @before))
        order by customer.id
        limit @limit
        """;

    /// <summary>When a customer was erased; null where they were not, or there is none.</summary>
    public static Instant? ErasedAt(Turn turn, string customer) => Microseconds.Read(turn.QueryFirst<long?>(ErasedSql, new { site = turn.Site, customer }));

    public static IReadOnlyList<Label> JobsOf(Turn turn, string customer) => [.. turn.Query<string>(JobsSql, new { site = turn.Site, customer }).Select(Label.Read)];

    /// <returns>How many entries of the job lost text.</returns>
    public static int EraseText(Turn turn, Label job)
    {
        var erased = 0;
        foreach (var entry in turn.Query<ErasableEntry>(EntriesSql, new { site = turn.Site, stream = StreamEntry.OfJob(job) }))
        {
            if (ErasableText.Without(entry.Type, entry.Data) is { } data)
            {
                turn.Execute(EraseEntrySql, new { site = turn.Site, position = entry.Position, data });
                erased++;
            }
        }

        return erased;
    }

    /// <summary>Letters about a job that were handed on, also those that have not gone yet.</summary>
    public static void ForgetLetters(Turn turn, Label job) => turn.Execute(ForgetLettersSql, new { site = turn.Site, stream = StreamEntry.OfJob(job), now = Microseconds.Of(turn.Now) });

    public static void EraseCustomer(Turn turn, string customer)
    {
        turn.Execute(EraseCustomerSql, new { site = turn.Site, customer, now = Microseconds.Of(turn.Now) });
        turn.Execute(ForgetAnswersSql, new { site = turn.Site, customer = $"%{customer}%" });
    }

    /// <summary>The text of events that were refused before a moment goes; that they were, and what was answered, stays.</summary>
    public static int ForgetRefused(Turn turn, Instant before) => turn.Execute(ForgetRefusedSql, new { site = turn.Site, before = Microseconds.Of(before) });

    /// <summary>Customers whose last watch came in before a moment, and who have none here.</summary>
    public static IReadOnlyList<string> Due(Turn turn, Instant before, int limit) => turn.Query<string>(DueSql, new { site = turn.Site, before = Microseconds.Of(before), limit });
}
