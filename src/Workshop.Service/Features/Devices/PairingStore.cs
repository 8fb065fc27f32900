using NodaTime;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Devices;

/// <summary>A pairing that waits for its device.</summary>
public sealed record OpenPairing
{
    public required string Site { get; init; }

    public required string Id { get; init; }

    public required string Device { get; init; }

    public string? Bench { get; init; }

    public required string Role { get; init; }

    public required byte[] Salt { get; init; }

    public required byte[] Hash { get; init; }

    public required long Iterations { get; init; }

    public bool Has(string digits) => new ShortNumber(Salt, Hash, (int)Iterations).Is(digits);
}

/// <summary>Pairings that wait for their device. Rows are of no use when their time is over, and go then.</summary>
public sealed class PairingStore(Reader reader)
{
    /// <summary>The digits are good for so long.</summary>
    public static readonly Duration GoodFor = Duration.FromMinutes(10);

    /// <summary>So many wrong digits, whoever sent them, and every pairing that was open meanwhile is void.</summary>
    public const int WrongAtMost = 10;

    // Whoever pairs has no key and so names no site: the digits lead to it.
    private const string OpenSql = """
        select site, id, device, bench, role, salt, hash, iterations
        from pairing
        where expires > @now
          and closed is null
        order by id
        """;

    private const string AddSql = """
        insert into pairing (site, id, device, bench, role, salt, hash, iterations, expires, wrong, closed)
        values (@site, @id, @device, @bench, @role, @salt, @hash, @iterations, @expires, 0, null)
        """;

    private const string CloseOfDeviceSql = """
        update pairing
        set closed = @now
        where site = @site
          and expires > @now
          and device = @device
          and closed is null
        """;

    private const string UseSql = """
        update pairing
        set closed = @now
        where site = @site
          and id = @id
          and expires > @now
          and closed is null
        """;

    private const string CountWrongSql = """
        update pairing
        set wrong = wrong + 1,
            closed = case when wrong + 1 >= @most then @now else null end
        where site = @site
          and expires > @now
          and closed is null
        """;

    private const string SweepSql = """
        delete from pairing
        where site = @site
          and expires <= @now
        """;

    public Task<IReadOnlyList<OpenPairing>> Open(Instant now, CancellationToken cancel) => reader.Query<OpenPairing>(OpenSql, new { now = Microseconds.Of(now) }, cancel);

    /// <summary>Opens a pairing; one of the same device that was open is void.</summary>
    /// <returns>The moment at which its time is over.</returns>
    public static Instant Add(Turn turn, string device, string? bench, string role, ShortNumber digits)
    {
        var now = Microseconds.Of(turn.Now);
        turn.Execute(SweepSql, new { site = turn.Site, now });
        turn.Execute(CloseOfDeviceSql, new { site = turn.Site, device, now });
        var expires = turn.Now + GoodFor;
        turn.Execute(AddSql, new
        {
            site = turn.Site,
            id = Guid.CreateVersion7(turn.Now.ToDateTimeOffset()).ToString(),
            device,
            bench,
            role,
            salt = digits.Salt,
            hash = digits.Hash,
            iterations = digits.Iterations,
            expires = Microseconds.Of(expires),
        });
        return expires;
    }

    /// <summary>Uses up a pairing.</summary>
    /// <returns>false: it was used, void or over meanwhile.</returns>
    public static bool Use(Turn turn, string id) => turn.Execute(UseSql, new { site = turn.Site, id, now = Microseconds.Of(turn.Now) }) == 1;

    /// <summary>A wrong number was tried: it counts against whatever was open.</summary>
    public static void CountWrong(Turn turn) => turn.Execute(CountWrongSql, new { site = turn.Site, now = Microseconds.Of(turn.Now), most = WrongAtMost });
}
