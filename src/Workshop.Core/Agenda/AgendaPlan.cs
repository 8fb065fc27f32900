using System.Collections.Immutable;
using Workshop.Core.Jobs;
using Workshop.Core.Shop;

namespace Workshop.Core.Agenda;

/// <summary>What falls due in a job, computed from the folded job and the shop's calendar.</summary>
public static class AgendaPlan
{
    public static ImmutableArray<AgendaRow> For(Job job, ShopCalendar calendar) => [];
}
