using System.Collections.Immutable;
using System.Text.Json;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.House;
using Workshop.Core.Journal;
using Workshop.Core.Shop;
using Workshop.Core.Sources;
using Workshop.Core.Words;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Storage;

/// <summary>
/// The agenda rows of the house, stream <c>house</c>: what falls due and belongs to no job. They depend on when devices were heard, of
/// which no entry tells, so that they are looked at anew every few minutes and are no matter of a replay.
/// </summary>
internal static class HouseAgenda
{
    private const string DevicesSql = """
        select source, created, last_used
        from api_key
        where site = @site
          and role = 'bench'
          and revoked is null
          and source >= '/devices/'
          and source < '/devices0'
        order by source
        """;

    private const string BeganSql = """
        select received
        from journal
        where site = @site
          and position = 1
        """;

    private const string StoppedSql = """
        select id, url, description, state, state_since
        from webhook_endpoint
        where site = @site
          and reason in ('attempts-exhausted', 'gone')
        order by id
        """;

    private const string UnsentSql = """
        select letter, job, given_up
        from letter
        where site = @site
          and given_up is not null
        order by letter, job
        """;

    /// <summary>Computes the rows anew and writes those that differ.</summary>
    public static void Refresh(Turn turn) => turn.SaveHouseAgenda(Plan(turn, turn.Rules));

    /// <summary>The rows as these rules have them.</summary>
    public static ImmutableArray<AgendaRow> Plan(Turn turn, ShopRules rules) => HousePlan.For(Fold(turn), Facts(turn), rules);

    /// <summary>Says that a row is due, if it still is.</summary>
    /// <returns>Whether it was said.</returns>
    public static bool Say(Turn turn, string kind, string reference, Instant now)
    {
        var row = HousePlan.For(Fold(turn), Facts(turn), turn.Rules).FirstOrDefault(one => Word.Of(one.Kind) == kind && one.Ref == reference);
        var due = row is { Due: not null, Wake: { } wake } && wake <= now;
        if (due)
        {
            var said = new DueAnnounced { Kind = row!.Kind, Ref = row.Ref, Level = row.Level, Due = row.Due!.Value };
            turn.Append([turn.Compose(House.Stream, new EventId(EventId.Service, $"due.announced/{House.Stream}/{kind}/{reference}/{Word.Of(row.Level)}/{row.Due}"), said, new Judged { Role = "service" })]);
        }

        // Whether it was said now or is no longer so: its row is to say so, too.
        Refresh(turn);
        return due;
    }

    /// <summary>Writes down that a back-up was made; the same told twice is one.</summary>
    public static void Keep(Turn turn, string source, BackUpMade made)
    {
        var id = new EventId(source, $"{made.Type}/{made.MadeAt}");
        if (turn.EntriesOf(House.Stream).All(entry => entry.Id != id))
        {
            turn.Append([turn.Compose(House.Stream, id, made)]);
            Refresh(turn);
        }
    }

    /// <summary>What the house knows of itself, as this turn sees it.</summary>
    public static House Fold(Turn turn) => House.Replay(turn.EntriesOf(House.Stream));

    private static HouseFacts Facts(Turn turn) => new(
        Microseconds.Read(turn.QueryFirst<long?>(BeganSql, new { site = turn.Site })) ?? turn.Now,
        Devices(turn),
        [
            .. ShopDocuments.AllOfKind(turn, ShopKinds.Of<FluidBatchDocument>().Name)
                .Select(one => (one.Id, Batch: Read<FluidBatchDocument>(one)))
                .Where(one => one.Batch.DiscardedOn is null)
                .Select(one => Filled(turn, one.Id, one.Batch)),
        ])
    {
        Now = turn.Now,
        Stopped = [.. turn.Query<StoppedRow>(StoppedSql, new { site = turn.Site }).Select(Stopped)],
        Unsent =
        [
            .. turn.Query<UnsentRow>(UnsentSql, new { site = turn.Site }).GroupBy(row => row.Letter, StringComparer.Ordinal)
                .Select(letter => new UnsentLetter(letter.Key, [.. letter.Select(row => row.Job).Distinct()], Microseconds.Read(letter.Min(row => row.GivenUp)))),
        ],
        Expected = ExpectedWatches.WaitedFor(turn),
        Flagged = ExpectedWatches.Flagged(turn),
    };

    // An address may hold what is nobody else's business; its host does not.
    private static StoppedEndpoint Stopped(StoppedRow row) =>
        new(row.Id, row.Description ?? new Uri(row.Url).Host, Microseconds.Read(row.StateSince), row.State == "disabled");

    private static FilledJar Filled(Turn turn, string id, FluidBatchDocument batch)
    {
        var counted = batch.Machine is { } machine ? RunTable.Fluids(turn, machine).Find(id) : null;
        return new FilledJar(id, batch.Jar, batch.Machine, batch.FilledOn, counted?.RunsInJar ?? 0, counted?.Reached(turn.Rules.Cleaning.RunsIn(batch.Jar).WarnRuns));
    }

    private static List<HeardDevice> Devices(Turn turn)
    {
        var documents = ShopDocuments.AllOfKind(turn, ShopKinds.Of<DeviceDocument>().Name).ToDictionary(one => one.Id, Read<DeviceDocument>, StringComparer.Ordinal);
        return
        [
            .. turn.Query<PairedDevice>(DevicesSql, new { site = turn.Site })
                .Select(row => (Name: DeviceSource.NameOf(row.Source), Heard: row.LastUsed ?? row.Created))
                .Where(one => one.Name is not null)
                .GroupBy(one => one.Name!, one => one.Heard, StringComparer.Ordinal)
                .Select(one => new HeardDevice(one.Key, Microseconds.Read(one.Max()), documents.GetValueOrDefault(one.Key)?.SilentAfter ?? turn.Rules.Agenda.DeviceSilentAfter)),
        ];
    }

    private static T Read<T>(ShopDocument stored) => JsonSerializer.Deserialize<T>(stored.Document, WorkshopJson.Options)!;

    private sealed record StoppedRow
    {
        public required string Id { get; init; }

        public required string Url { get; init; }

        public string? Description { get; init; }

        public required string State { get; init; }

        public required long StateSince { get; init; }
    }

    private sealed record UnsentRow
    {
        public required string Letter { get; init; }

        public required string Job { get; init; }

        public required long GivenUp { get; init; }
    }

    private sealed record PairedDevice
    {
        public required string Source { get; init; }

        public required long Created { get; init; }

        public long? LastUsed { get; init; }
    }
}
