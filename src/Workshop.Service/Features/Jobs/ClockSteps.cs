using NodaTime;
using Workshop.Core.House;
using Workshop.Core.Journal;
using Workshop.Core.WearChecks;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>Writes down that the service's own clock jumped: for the house, and in every job whose worn check is running.</summary>
public static class ClockSteps
{
    public static async Task Tell(AgendaStore agenda, Writer writer, Duration jumped, CancellationToken cancel)
    {
        foreach (var site in await agenda.Sites(cancel))
        {
            await writer.Turn(site, turn => Write(turn, jumped), cancel);
        }
    }

    private static void Write(Turn turn, Duration jumped)
    {
        var stepped = new ClockStepped { BySeconds = Math.Round((decimal)jumped.TotalSeconds, 1, MidpointRounding.AwayFromZero) };
        var told = turn.Compose(House.Stream, new EventId(EventId.Service, $"{stepped.Type}/{House.Stream}/{turn.NextPosition}"), stepped, new Judged { Role = "service" });
        turn.Append([told]);
        foreach (var job in RunningChecks.Of(turn))
        {
            // A clock that was put back does not put the jump before what happened.
            if (turn.History(job) is { Job: { WearChecks.Running: not null, Last: { } last } } history)
            {
                JobTurn.HearElsewhere(turn, history, stepped, told.Entry.Id, new Place(Instant.Max(turn.Now, last.Effective), EventId.Service, 0, Position: 0), []);
            }
        }
    }
}
