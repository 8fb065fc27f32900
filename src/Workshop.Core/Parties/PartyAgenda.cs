using Workshop.Core.Agenda;
using Workshop.Core.Jobs;
using Workshop.Core.Shop;

namespace Workshop.Core.Parties;

/// <summary>What is to be done where somebody round a watch is not there any more, or cannot be reached.</summary>
internal static class PartyAgenda
{
    public static IEnumerable<AgendaRow> Of(Job job, ShopCalendar calendar)
    {
        foreach (var one in job.Parties.Standings)
        {
            if (one.Deceased && one.Customer == job.Parties.Decides && !job.Standings.HandedOver)
            {
                yield return AgendaPlan.Row(job, calendar, AgendaKind.DeciderGone, one.Customer, one.Since, "Whoever decided has died: ask who decides now");
            }

            if (!one.Deceased && !one.Unreachable.IsEmpty)
            {
                yield return AgendaPlan.Row(job, calendar, AgendaKind.Unreachable, one.Customer, one.Since, "A letter came back: ask how to reach them");
            }
        }
    }
}
