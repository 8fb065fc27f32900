using NodaTime;
using Workshop.Core.People;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.People;

/// <summary>A person's number as it is kept; moments in microseconds.</summary>
public sealed record KeptProof
{
    public required byte[] Salt { get; init; }

    public required byte[] Hash { get; init; }

    public required long Iterations { get; init; }

    public required long Given { get; init; }

    public long? LockedUntil { get; init; }

    public bool Is(string digits) => new ShortNumber(Salt, Hash, (int)Iterations).Is(digits);
}

/// <summary>A number that was told, compared before the turn.</summary>
/// <param name="Person">Whose number it was compared with.</param>
/// <param name="Given">When that number had been given out, in microseconds.</param>
public sealed record ToldProof(string Person, bool Right, long Given);

/// <summary>The short numbers by which people of the house prove who they are, and the wrong ones that were told lately.</summary>
public sealed class ProofStore(Reader reader)
{
    private const string FindSql = """
        select salt, hash, iterations, given, locked_until
        from person_proof
        where site = @site
          and person = @person
        """;

    private const string AnySql = """
        select 1
        from person_proof
        where site = @site
        limit 1
        """;

    private const string PutSql = """
        insert into person_proof (site, person, salt, hash, iterations, given, locked_until)
        values (@site, @person, @salt, @hash, @iterations, @given, null)
        on conflict (site, person) do update set
            salt = excluded.salt,
            hash = excluded.hash,
            iterations = excluded.iterations,
            given = excluded.given,
            locked_until = null
        """;

    private const string RemoveSql = """
        delete from person_proof
        where site = @site
          and person = @person
        """;

    private const string LockSql = """
        update person_proof
        set locked_until = @until
        where site = @site
          and person = @person
        """;

    private const string AddTrySql = """
        insert into proof_try (site, person, at, source, id)
        values (@site, @person, @now, @source, @id)
        on conflict (site, person, at, source, id) do nothing
        """;

    private const string CountTriesSql = """
        select count(*)
        from proof_try
        where site = @site
          and person = @person
          and at > @since
        """;

    private const string ForgetTriesSql = """
        delete from proof_try
        where site = @site
          and person = @person
          and at <= @until
        """;

    private const string HeardSql = """
        select given
        from proof_heard
        where site = @site
          and source = @source
          and id = @id
          and person = @person
        """;

    private const string KeepHeardSql = """
        insert into proof_heard (site, source, id, person, given)
        values (@site, @source, @id, @person, @given)
        on conflict (site, source, id) do nothing
        """;

    /// <summary>A person's number; null where they have none.</summary>
    public Task<KeptProof?> Find(string site, string person, CancellationToken cancel) => reader.QueryFirst<KeptProof>(FindSql, new { site, person }, cancel);

    /// <summary>Whether anybody has one: before that nobody is asked.</summary>
    public static bool Any(Turn turn) => turn.QueryFirst<long?>(AnySql, new { site = turn.Site }) is not null;

    /// <summary>Gives a person a number; the former one, what it proved, and a lock are gone.</summary>
    public static void Put(Turn turn, string person, ShortNumber number)
    {
        ForgetTries(turn, person, turn.Now);
        turn.Execute(PutSql, new { site = turn.Site, person, salt = number.Salt, hash = number.Hash, iterations = number.Iterations, given = Microseconds.Of(turn.Now) });
    }

    /// <summary>The person has no number any more, whether or not they had one.</summary>
    public static void Remove(Turn turn, string person)
    {
        ForgetTries(turn, person, turn.Now);
        turn.Execute(RemoveSql, new { site = turn.Site, person });
    }

    /// <summary>When the number that the person has now was given out; null where they have none.</summary>
    public static Instant? Given(Turn turn, string person) => Find(turn, person) is { } kept ? Microseconds.Read(kept.Given) : null;

    /// <summary>
    /// What came of a number that was told with an event. A wrong one is counted here, in the turn, so that many tries at once are as many
    /// tries; and while a number is locked not even the right one is confirmed.
    /// </summary>
    public static Proof Settle(Turn turn, ToldProof? told, EventId id)
    {
        if (told is null)
        {
            return Proof.Missing;
        }

        if (Find(turn, told.Person) is not { } kept || kept.Given != told.Given)
        {
            return Proof.Wrong;
        }

        if (kept.LockedUntil > Microseconds.Of(turn.Now))
        {
            return Proof.Locked;
        }

        return told.Right ? Proof.Right : CountWrong(turn, told.Person, id) ? Proof.Locked : Proof.Wrong;
    }

    /// <summary>Remembers that the number told with an event was right; the event itself is judged later.</summary>
    public static void KeepHeard(Turn turn, EventId id, ToldProof told) =>
        turn.Execute(KeepHeardSql, new { site = turn.Site, source = id.Source, id = id.Id, person = told.Person, given = told.Given });

    /// <summary>Whether the number told with an event was this person's when it came, and was not replaced since.</summary>
    public static bool WasHeard(Turn turn, EventId id, string person) =>
        turn.QueryFirst<long?>(HeardSql, new { site = turn.Site, source = id.Source, id = id.Id, person }) is { } given && Find(turn, person)?.Given == given;

    private static KeptProof? Find(Turn turn, string person) => turn.QueryFirst<KeptProof>(FindSql, new { site = turn.Site, person });

    /// <returns>true: that was one too many.</returns>
    private static bool CountWrong(Turn turn, string person, EventId id)
    {
        var since = turn.Now - Duration.FromMinutes(ProofRules.CountedMinutes);
        ForgetTries(turn, person, since);
        turn.Execute(AddTrySql, new { site = turn.Site, person, now = Microseconds.Of(turn.Now), source = id.Source, id = id.Id });
        var wrong = turn.QueryFirst<long>(CountTriesSql, new { site = turn.Site, person, since = Microseconds.Of(since) });
        if (wrong < ProofRules.WrongAtMost)
        {
            return false;
        }

        turn.Execute(LockSql, new { site = turn.Site, person, until = Microseconds.Of(turn.Now + Duration.FromMinutes(ProofRules.LockedMinutes)) });
        ForgetTries(turn, person, turn.Now);
        return true;
    }

    private static void ForgetTries(Turn turn, string person, Instant until) =>
        turn.Execute(ForgetTriesSql, new { site = turn.Site, person, until = Microseconds.Of(until) });
}
