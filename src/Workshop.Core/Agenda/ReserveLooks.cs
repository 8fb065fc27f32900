using Workshop.Core.Jobs;
using Workshop.Core.Shop;

namespace Workshop.Core.Agenda;

/// <summary>When a watch whose reserve is tested is to be looked at: a little before its hours are over, and when they are.</summary>
internal static class ReserveLooks
{
    public static IEnumerable<AgendaRow> Of(Job job, ShopCalendar calendar)
    {
        if (!job.Standings.HandedOver && job.Reserve.Running is { LookAt: { } at } running)
        {
            yield return AgendaPlan.Row(job, calendar, AgendaKind.ReserveTest, running.Start.ToString(), at, "Does it still run? Look at the reserve test; do not wind it");
        }
    }
}
