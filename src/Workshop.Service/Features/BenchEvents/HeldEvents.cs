using System.Collections.Immutable;
using NodaTime;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>
/// Judges events that have waited long enough for what their device said before, by real time: a demo or a test may stand still, a bench
/// does not. Where several instances share a database each looks after all; whoever comes second finds nothing.
/// </summary>
public sealed partial class HeldEvents(Writer writer, Reader reader, EventSettings settings, RealTime time, ILogger<HeldEvents> log) : BackgroundService
{
    private const string NextReleaseSql = """
        select min(release_at)
        from received
        where site = @site
          and state = 'held'
        """;

    private const string DueSourcesSql = """
        select source, max(sequence) as upto
        from received
        where site = @site
          and state = 'held'
          and release_at <= @now
        group by source
        order by source
        """;

    private const string SitesSql = """
        select id
        from site
        order by id
        """;

    /// <summary>Another instance may have held an event and gone away.</summary>
    private static readonly Duration LookAtLeastEvery = Duration.FromMinutes(1);

    /// <summary>Less is not worth a timer.</summary>
    private static readonly Duration ShortestWait = Duration.FromMilliseconds(1);

    private readonly SemaphoreSlim woken = new(0);
    private long lookAt = long.MaxValue;

    /// <summary>Until when an event that is received now waits.</summary>
    public Instant HoldUntil(EventSettings events) => time.Now + events.HoldGapFor;

    /// <summary>Something was held, or waits to be judged; called when it is committed.</summary>
    public void Look(IEnumerable<Instant?> moments)
    {
        foreach (var moment in moments.OfType<Instant>())
        {
            Sooner(moment);
        }
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            var next = time.Now + LookAtLeastEvery;
            try
            {
                Interlocked.Exchange(ref lookAt, long.MaxValue);
                next = Instant.Min(next, await Release(stoppingToken) ?? next);
            }
            catch (Exception failure) when (failure is not OperationCanceledException)
            {
                ReleaseFailed(failure);
            }

            Sooner(next);
            await Wait(stoppingToken);
        }
    }

    /// <summary>Judges what has waited long enough.</summary>
    /// <returns>When the next of those that still wait has; null where none does.</returns>
    internal async Task<Instant?> Release(CancellationToken cancel)
    {
        var next = ImmutableArray.CreateBuilder<Instant>();
        foreach (var site in await reader.Query<string>(SitesSql, null, cancel))
        {
            while (await reader.QueryFirst<long?>(NextReleaseSql, new { site }, cancel) is { } first)
            {
                if (Microseconds.Read(first) > time.Now)
                {
                    next.Add(Microseconds.Read(first));
                    break;
                }

                await writer.Turn(site, turn => ReleaseDue(turn, time.Now), cancel);
            }
        }

        return next.Count == 0 ? null : next.Min();
    }

    // All of a source that stand below one that has waited long enough come before it, in their order.
    private void ReleaseDue(Turn turn, Instant now)
    {
        var released = 0;
        foreach (var due in turn.Query<DueSource>(DueSourcesSql, new { site = turn.Site, now = Microseconds.Of(now) }))
        {
            while (released < HearEvent.ReleasedInATurn && turn.FirstHeld(due.Source) is { } first && first.Sequence <= due.Upto)
            {
                HearEvent.Release(turn, due.Source, settings);
                released++;
            }

            HearEvent.ReleaseFollowing(turn, due.Source, settings);
        }
    }

    private async Task Wait(CancellationToken cancel)
    {
        while (Instant.FromUnixTimeTicks(Interlocked.Read(ref lookAt)) - time.Now is var left && left > Duration.Zero)
        {
            // Woken early when something is to be looked at sooner.
            await woken.WaitAsync(Duration.Max(left, ShortestWait).ToTimeSpan(), cancel);
        }
    }

    private void Sooner(Instant moment)
    {
        var ticks = moment == Instant.MinValue ? 0 : moment.ToUnixTimeTicks();
        for (var before = Interlocked.Read(ref lookAt); ticks < before; before = Interlocked.Read(ref lookAt))
        {
            if (Interlocked.CompareExchange(ref lookAt, ticks, before) == before)
            {
                woken.Release();
                return;
            }
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "Events that have waited long enough could not be judged; they wait on")]
    private partial void ReleaseFailed(Exception failure);

    private sealed record DueSource
    {
        public required string Source { get; init; }

        public required long Upto { get; init; }
    }
}
