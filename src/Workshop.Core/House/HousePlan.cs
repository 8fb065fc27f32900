using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Shop;

namespace Workshop.Core.House;

/// <summary>What falls due in the house and belongs to no job: fluids that grow old, devices that are silent, a back-up that is missing.</summary>
public static class HousePlan
{
    public static ImmutableArray<AgendaRow> For(House house, HouseFacts facts, ShopRules rules) =>
    [
        .. facts.Devices.Where(device => device.SilentAfter > Duration.Zero).Select(device => Silent(house, device, rules.Calendar)),
        .. facts.Fillings.Select(filling => GrowsOld(house, filling, rules)),
        .. facts.Fillings.Where(filling => filling.WornSince is not null).Select(filling => WearsOut(house, filling, rules)),
        BackUp(house, facts, rules),
    ];

    // Nobody posts while the shop is shut: silence is counted in open hours.
    private static AgendaRow Silent(House house, HeardDevice device, ShopCalendar calendar)
    {
        var due = calendar.AfterWorkingHours(device.Heard, device.SilentAfter);
        return AgendaPlan.Build(
            house.Announcements, AgendaKind.DeviceSilent, device.Name, due, calendar.NextOpening(due), $"Not heard since {device.Heard}: {device.Name}",
            (AgendaLevel.Due, () => due),
            (AgendaLevel.Manager, () => calendar.NextWorkingDay(due)));
    }

    // It is due at the end of its last day; said in time for somebody to change it.
    private static AgendaRow GrowsOld(House house, FilledJar filling, ShopRules rules)
    {
        var life = rules.Agenda.LifeIn(filling.Jar);
        var warn = rules.Calendar.NextOpening(filling.FilledOn.PlusDays(life.WarnDays).AtStartOfDayInZone(rules.Calendar.Zone).ToInstant());
        var last = filling.FilledOn.PlusDays(life.LastDays);
        var due = rules.Calendar.EndOfDay(last);
        return AgendaPlan.Build(
            house.Announcements, AgendaKind.FluidOld, filling.Batch, due, Instant.Min(warn, due), $"{(filling.Machine is { } machine ? $"{machine}, " : "")}{filling.Jar}: good through {last:yyyy-MM-dd}",
            (AgendaLevel.Due, () => Instant.Min(warn, due)),
            (AgendaLevel.Manager, () => due));
    }

    // Said when the warning is reached; to the manager when no further run may start.
    private static AgendaRow WearsOut(House house, FilledJar filling, ShopRules rules)
    {
        var runs = rules.Cleaning.RunsIn(filling.Jar);
        var since = filling.WornSince!.Value;
        var level = filling.Runs >= runs.LastRun ? AgendaLevel.Manager : AgendaLevel.Due;
        return AgendaPlan.Build(
            house.Announcements, AgendaKind.FluidRuns, filling.Batch, since, rules.Calendar.NextOpening(since),
            $"{(filling.Machine is { } machine ? $"{machine}, " : "")}{filling.Jar}: {filling.Runs} of {runs.LastRun} runs",
            (level, () => since));
    }

    private static AgendaRow BackUp(House house, HouseFacts facts, ShopRules rules)
    {
        var since = house.LastBackUp?.MadeAt ?? facts.Began;
        var due = since + rules.Agenda.BackUpOlderThan;
        return AgendaPlan.Build(
            house.Announcements, AgendaKind.BackUp, "back-up", due, rules.Calendar.NextOpening(due),
            house.LastBackUp is { } last ? $"The newest back-up is of {last.MadeAt}" : "No back-up has been made yet",
            (AgendaLevel.Due, () => due),
            (AgendaLevel.Manager, () => rules.Calendar.NextWorkingDay(due)));
    }
}
