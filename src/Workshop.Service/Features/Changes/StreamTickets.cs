using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using NodaTime;
using Workshop.Service.Http.Keys;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Changes;

/// <summary>
/// Tickets for browsers, which cannot send a key when they open a stream: an address with a ticket is good once and for half a minute,
/// so that it does no harm in whatever log it ends up in. Only its hash is kept.
/// </summary>
public sealed class StreamTickets(Reader reader, Writer writer, RealTime realTime)
{
    public static readonly Duration GoodFor = Duration.FromSeconds(30);

    private const int Bytes = 32;
    private const string Prefix = "wt_";

    private const string AddSql = """
        insert into stream_ticket (site, hash, api_key, expires)
        values (@site, @hash, @api_key, @expires)
        """;

    private const string FindSql = """
        select site
        from stream_ticket
        where hash = @hash
          and expires > @now
        """;

    private const string TakeSql = """
        delete from stream_ticket
        where site = @site
          and hash = @hash
          and expires > @now
        returning api_key
        """;

    private const string ForgetSql = """
        delete from stream_ticket
        where site = @site
          and expires <= @now
        """;

    /// <summary>A new one, in a turn.</summary>
    /// <returns>The ticket, and when it is over by real time.</returns>
    public (string Ticket, Instant ExpiresAt) Make(Turn turn, Caller caller)
    {
        var now = realTime.Now;
        var ticket = Prefix + Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(Bytes));
        turn.Execute(ForgetSql, new { site = turn.Site, now = Microseconds.Of(now) });
        turn.Execute(AddSql, new { site = turn.Site, hash = HashOf(ticket), api_key = caller.KeyId, expires = Microseconds.Of(now + GoodFor) });
        return (ticket, now + GoodFor);
    }

    /// <summary>Takes a ticket: it is good no second time. Null for one that nobody has any more, and where its key was withdrawn since.</summary>
    public async Task<Caller?> Take(string ticket, CancellationToken cancel)
    {
        var (hash, now) = (HashOf(ticket), Microseconds.Of(realTime.Now));
        if (!ticket.StartsWith(Prefix, StringComparison.Ordinal) || await reader.QueryFirst<string>(FindSql, new { hash, now }, cancel) is not { } site)
        {
            return null;
        }

        var found = await writer.Turn(site, turn => turn.QueryFirst<string>(TakeSql, new { site, hash, now }) is { } apiKey ? ApiKeys.OfId(turn, apiKey) : null, cancel);
        return found is { Revoked: null } ? Caller.Behind(found) : null;
    }

    private static byte[] HashOf(string ticket) => SHA256.HashData(Encoding.UTF8.GetBytes(ticket));
}
