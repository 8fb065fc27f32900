using System.Data.Common;
using System.Diagnostics.Metrics;
using Dapper;
using NodaTime;
using Workshop.Service.Meters;
using Workshop.Service.Storage;

namespace Workshop.Service.Http;

/// <summary>
/// What stands and waits, read from the database when somebody asks for it and at no other time. Where the database does not answer these
/// are left out, and that is said.
/// </summary>
public sealed class StandingFigures
{
    private const string SitesSql = """
        select id
        from site
        order by id
        """;

    private const string DeliveriesSql = """
        select count(*) as waiting, min(message.created) as oldest
        from webhook_delivery as delivery
        join outbox as message
          on message.site = delivery.site
         and message.position = delivery.position
        where delivery.site = @site
          and delivery.state = 'waiting'
        """;

    private const string LettersSql = """
        select count(*)
        from letter
        where site = @site
          and next_attempt is not null
        """;

    private const string UnsentSql = """
        select count(distinct letter)
        from letter
        where site = @site
          and given_up is not null
        """;

    private const string OverdueSql = """
        select count(*)
        from agenda
        where site = @site
          and due <= @now
        """;

    private const string RecordingsSql = """
        select count(*)
        from recording
        where site = @site
          and state = 'waiting'
        """;

    private readonly Reader reader;
    private readonly IClock clock;
    private volatile Figures? read;

    public StandingFigures(Reader reader, Writer writer, IClock clock, IMeterFactory factory)
    {
        (this.reader, this.clock) = (reader, clock);
        var meter = factory.Create(WorkshopMeters.Name);
        meter.CreateObservableGauge("workshop.storage_reachable", () => read is null ? 0 : 1, "{database}", "1 where the database answers.");
        meter.CreateObservableGauge("workshop.turns_waiting", () => writer.Waiting, "{turn}", "Turns that wait for the writer.");
        Gauge(meter, "workshop.deliveries_waiting", "{message}", "Messages that wait at an endpoint.", figures => figures.Deliveries);
        Gauge(meter, "workshop.oldest_delivery", "s", "Age of the oldest message that waits at an endpoint.", figures => figures.OldestDelivery);
        Gauge(meter, "workshop.letters_waiting", "{letter}", "Things to be said by mail that wait or are on their way.", figures => figures.Letters);
        Gauge(meter, "workshop.letters_unsent", "{letter}", "Letters that were given up, and that nobody has told otherwise yet.", figures => figures.Unsent);
        Gauge(meter, "workshop.recordings_waiting", "{recording}", "Recordings that wait to be listened to.", figures => figures.Recordings);
        Gauge(meter, "workshop.agenda_overdue", "{row}", "Rows of the agenda whose time has come.", figures => figures.Overdue);
    }

    /// <summary>Reads them anew.</summary>
    public async Task Read(CancellationToken cancel)
    {
        try
        {
            var now = Microseconds.Of(clock.GetCurrentInstant());
            read = await reader.Read(connection => connection.Query<string>(SitesSql).Select(site => Of(connection, site, now)).Aggregate(Figures.None, Both), cancel);
        }
        catch (StorageUnavailableException)
        {
            read = null;
        }
    }

    private static Figures Of(DbConnection connection, string site, long now)
    {
        var deliveries = connection.QueryFirst<WaitingDeliveries>(DeliveriesSql, new { site });
        return new Figures(
            deliveries.Waiting, deliveries.Oldest is { } oldest ? Math.Max(0, (now - oldest) / 1_000_000) : 0,
            connection.QueryFirst<long>(LettersSql, new { site }), connection.QueryFirst<long>(UnsentSql, new { site }), connection.QueryFirst<long>(RecordingsSql, new { site }),
            connection.QueryFirst<long>(OverdueSql, new { site, now }));
    }

    private static Figures Both(Figures one, Figures other) => new(
        one.Deliveries + other.Deliveries, Math.Max(one.OldestDelivery, other.OldestDelivery), one.Letters + other.Letters, one.Unsent + other.Unsent,
        one.Recordings + other.Recordings, one.Overdue + other.Overdue);

    private void Gauge(Meter meter, string name, string unit, string text, Func<Figures, long> figure) =>
        meter.CreateObservableGauge(name, () => read is { } figures ? [new Measurement<long>(figure(figures))] : Array.Empty<Measurement<long>>(), unit, text);

    private sealed record Figures(long Deliveries, long OldestDelivery, long Letters, long Unsent, long Recordings, long Overdue)
    {
        public static readonly Figures None = new(0, 0, 0, 0, 0, 0);
    }

    private sealed record WaitingDeliveries
    {
        public required long Waiting { get; init; }

        public long? Oldest { get; init; }
    }
}
