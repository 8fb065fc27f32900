using Workshop.Core.Jobs;
using Workshop.Core.Parties;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Parties;

/// <summary>How the people round a watch come into its job, whoever says so.</summary>
public static class NameParties
{
    /// <summary>Writes down who is who, and what is known of them; every id is a customer's.</summary>
    public static Decision Say(Turn turn, JobHistory history, PartiesChanged said, Caller caller, string? person = null)
    {
        var decision = DeskCommand.Say(turn, history, caller, said, person);
        if (decision.Outcome != Outcome.Refused)
        {
            var parties = decision.Job.Parties;
            PartyStore.Put(turn, decision.Job.Label, parties.All.Where(id => id != parties.Customer));
            foreach (var one in parties.All.Except(history.Job.Parties.All, StringComparer.Ordinal))
            {
                PartyStandings.TellIfAny(turn, decision.Job.Label, CustomerStore.Find(turn, one)!);
            }
        }

        return decision;
    }
}
