using Workshop.Core.Agenda;
using Workshop.Core.Jobs;
using Workshop.Core.Letters;
using Workshop.Core.Shop;

namespace Workshop.Core.Parties;

/// <summary>What is to be done where somebody round a watch is not there any more, or cannot be reached.</summary>
internal static class PartyAgenda
{
    public static IEnumerable<AgendaRow> Of(Job job, ShopRules rules)
    {
        var calendar = rules.Calendar;
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

        // No letter any more: what becomes of a watch that nobody comes for is the manager's, by local law.
        if (!job.Standings.HandedOver && LetterPlan.ReadySince(job) is { } ready)
        {
            var due = LetterPlan.Later(ready, rules.Messages.UnclaimedDays, rules);
            yield return AgendaPlan.Build(
                job, AgendaKind.Unclaimed, "unclaimed", due, calendar.NextOpening(due), $"Ready for {rules.Messages.UnclaimedDays} days, and nobody has come: registered letter, then local rules",
                (AgendaLevel.Manager, () => due));
        }
    }
}
