using NodaTime;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.PersonalData;
using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>Erases who customers are when the time is over for which the shop keeps it, and the text of events that were refused long ago.</summary>
public sealed partial class ForgetPeople(AgendaStore store, Writer writer, ILogger<ForgetPeople> log)
{
    private const string Source = "/service";

    /// <summary>A year of customers at a time; the night after goes on.</summary>
    private const int AtOnce = 200;

    public async Task Run(CancellationToken cancel)
    {
        foreach (var site in await store.Sites(cancel))
        {
            var (people, events) = await writer.Turn(site, Forget, cancel);
            if (people > 0 || events > 0)
            {
                Forgot(people, events);
            }
        }
    }

    internal static (int People, int Events) Forget(Turn turn)
    {
        var rules = turn.Rules.PersonalData;
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var events = ErasureStore.ForgetRefused(turn, turn.Now - Duration.FromDays(rules.RefusedEventsDays));
        var people = 0;
        if (rules.ErasedAfterMonths is { } months)
        {
            foreach (var customer in ErasureStore.Due(turn, turn.Rules.Calendar.EndOfDay(today.PlusMonths(-months).PlusDays(-1)), AtOnce))
            {
                if (EraseCustomer.Look(turn, customer) is { Against: [] } look)
                {
                    EraseCustomer.Erase(turn, customer, look.Jobs, Source, afterItsTime: true);
                    people++;
                }
            }
        }

        return (people, events);
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "Forgot who {People} customers are, and the text of {Events} refused events")]
    private partial void Forgot(int people, int events);
}
