using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.House;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Arrivals;
using Workshop.Service.Features.Outgoing;
using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>
/// Looks for what has fallen due or become overdue by now and says so, as entries. May run twice, late, or on two machines without harm:
/// what was said is in the job itself, and is looked at again within the turn.
/// </summary>
public sealed partial class SweepDue(IClock clock, AgendaStore store, Writer writer, ILogger<SweepDue> log)
{
    private const int RowsAtOnce = 500;
    private const int RowsInATurn = 32;

    public Task Run(CancellationToken cancel) => Run(clock.GetCurrentInstant(), cancel);

    /// <param name="now">What is due by this moment is said; the demo's clock and the tests choose it.</param>
    public async Task Run(Instant now, CancellationToken cancel)
    {
        foreach (var site in await store.Sites(cancel))
        {
            await LookAgain(site, now, cancel);

            // Each announcement moves its row to the next moment, or to none, so that this comes to an end.
            while (await store.Waking(site, Microseconds.Of(now), RowsAtOnce, cancel) is { Count: > 0 } waking)
            {
                var said = 0;
                foreach (var rows in waking.Chunk(RowsInATurn))
                {
                    said += await Say(site, rows, now, cancel);
                }

                if (said == 0)
                {
                    break;
                }

                SaidSo(said, site);
            }
        }
    }

    // What is told outside of a watch may change with the day: a quote runs out, a parcel is presumed to have come.
    private async Task LookAgain(string site, Instant now, CancellationToken cancel)
    {
        while (await store.LooksAgain(site, now, cancel) && await writer.Turn(site, turn => TellOutside.LookAgain(turn, RowsInATurn), cancel) == RowsInATurn)
        {
            // There may be more.
        }
    }

    // One row that nobody can say must not keep all the others from being said.
    private async Task<int> Say(string site, StoredAgendaRow[] rows, Instant now, CancellationToken cancel)
    {
        try
        {
            return await writer.Turn(site, turn => rows.Sum(row => Say(turn, row, now)), cancel);
        }
        catch (Exception failure) when (failure is not (OperationCanceledException or WriterBusyException or StorageUnavailableException))
        {
            if (rows is [var alone])
            {
                CannotBeSaid(failure, alone.Stream, alone.Kind, alone.Ref);
                return 0;
            }
        }

        var said = 0;
        foreach (var row in rows)
        {
            said += await Say(site, [row], now, cancel);
        }

        return said;
    }

    /// <summary>Says what is due by the moment of a turn, within it.</summary>
    /// <returns>How much was said.</returns>
    internal static int SayDue(Turn turn)
    {
        TellOutside.LookAgain(turn, RowsAtOnce);
        return AgendaStore.Waking(turn, RowsAtOnce).Sum(row => Say(turn, row, turn.Now));
    }

    private static int Say(Turn turn, StoredAgendaRow row, Instant now)
    {
        if (row.Stream == House.Stream)
        {
            if (!HouseAgenda.Say(turn, row.Kind, row.Ref, now))
            {
                return 0;
            }

            if (row.Kind == Word.Of(AgendaKind.ArrivalOverdue))
            {
                ArrivalMessages.Overdue(turn, Label.Read(row.Ref), Microseconds.Read(row.Due) ?? now);
            }

            return 1;
        }

        var label = Label.Read(row.Stream["job/".Length..]);
        if (turn.History(label) is not { Job: { } job }
            || AgendaPlan.For(job, turn.Rules).FirstOrDefault(one => Word.Of(one.Kind) == row.Kind && one.Ref == row.Ref) is not { Due: { } due, Wake: { } wake } waking
            || wake > now)
        {
            return 0;
        }

        WorkshopEvent said = waking.Kind == AgendaKind.WarrantyOver
            ? new JobClosed()
            : new DueAnnounced { Kind = waking.Kind, Ref = waking.Ref, Level = waking.Level, Due = due };
        var id = waking.Kind == AgendaKind.WarrantyOver
            ? $"{said.Type}/{row.Stream}/{due}"
            : $"{said.Type}/{row.Stream}/{row.Kind}/{waking.Ref}/{Word.Of(waking.Level)}/{due}";
        turn.Append([turn.Compose(row.Stream, new EventId(EventId.Service, id), said, new Judged { Role = "service" })]);
        return 1;
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "What is due in {Stream} ({Kind}, {Ref}) cannot be announced; the others are.")]
    private partial void CannotBeSaid(Exception failure, string stream, string kind, string @ref);

    [LoggerMessage(Level = LogLevel.Information, Message = "{Said} due things were announced at {Site}.")]
    private partial void SaidSo(int said, string site);
}
