using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Parties;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Customers;

/// <summary>
/// That somebody has died or cannot be reached is told to the jobs they have to do with, by their id alone: gates and the agenda know
/// nothing but the job.
/// </summary>
public static class PartyStandings
{
    /// <summary>After a change of a customer.</summary>
    public static void TellJobs(Turn turn, StoredCustomer before, StoredCustomer after)
    {
        if (before.DeceasedOn is null == after.DeceasedOn is null && before.Unreachable == after.Unreachable)
        {
            return;
        }

        foreach (var job in PartyStore.OpenJobsOf(turn, after.Id))
        {
            Tell(turn, job, after);
        }
    }

    /// <summary>After a customer was named in a job.</summary>
    public static void TellIfAny(Turn turn, Label job, StoredCustomer customer)
    {
        if (customer.DeceasedOn is not null || !customer.ReadUnreachable().IsEmpty)
        {
            Tell(turn, job, customer);
        }
    }

    private static void Tell(Turn turn, Label job, StoredCustomer customer)
    {
        var stream = StreamEntry.OfJob(job);
        var told = new PartyStandingTold { Customer = customer.Id, Deceased = customer.DeceasedOn is not null, Unreachable = customer.ReadUnreachable() };
        var id = new EventId(EventId.Service, $"{EventCatalogue.TypeOf(told)}/{stream}/{customer.Id}/{turn.NextPosition}");
        turn.Append([turn.Compose(stream, id, told, new Judged { Role = "service" })]);
    }
}
