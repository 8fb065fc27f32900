using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Orders;
using Workshop.Core.Shop;

namespace Workshop.Core.House;

/// <summary>What falls due in the house and belongs to no job: fluids that grow old, devices that are silent, a back-up that is missing, the safe at the end of the day.</summary>
public static class HousePlan
{
    public static ImmutableArray<AgendaRow> For(House house, HouseFacts facts, ShopRules rules) =>
    [
        .. facts.Devices.Where(device => device.SilentAfter > Duration.Zero).Select(device => Silent(house, device, rules.Calendar)),
        .. facts.Fillings.Select(filling => GrowsOld(house, filling, rules)),
        .. facts.Fillings.Where(filling => filling.WornSince is not null).Select(filling => WearsOut(house, filling, rules)),
        BackUp(house, facts, rules),
        .. CountTheSafe(house, facts, rules),
        .. MissingInTheSafe(house),
        .. facts.Expected.Select(waited => ArrivalPlan.Row(house.Announcements, waited, rules)),
        .. facts.Flagged.Select(message => ArrivalPlan.Row(house.Announcements, message, rules)),
        .. facts.Stopped.Select(endpoint => Stopped(house, endpoint, rules)),
        .. facts.Unsent.Select(letter => Unsent(house, letter, rules.Calendar)),
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

    // A shop that has never counted its safe, and has set no hour for it, keeps none.
    private static IEnumerable<AgendaRow> CountTheSafe(House house, HouseFacts facts, ShopRules rules)
    {
        if (facts.Now is not { } now || (house.LastCount is null && rules.Insurance.EveningListAt is null))
        {
            yield break;
        }

        var calendar = rules.Calendar;
        var today = calendar.DateOf(now);
        var counted = house.LastCount is { } last && calendar.DateOf(last.At) is var on && on >= today ? on : today.PlusDays(-1);
        var day = calendar.OpenDayAfter(counted, 1);
        var due = EveningList.DueOn(day, rules);
        var closing = EveningList.ClosingOn(day, calendar);
        yield return AgendaPlan.Build(
            house.Announcements, AgendaKind.EveningList, $"{day:uuuu-MM-dd}", due, due, "Count the safe before it is locked",
            (AgendaLevel.Due, () => due),
            (AgendaLevel.Manager, () => Instant.Max(due, closing)));
    }

    // Said at once: it is looked for before the shop is locked.
    private static IEnumerable<AgendaRow> MissingInTheSafe(House house) => house.LastCount is not { } count ? []
        : count.Missing.Select(piece => AgendaPlan.Build(
            house.Announcements, AgendaKind.SafeMissing, piece, count.At, count.At, $"Not in the safe when it was counted: {piece}", (AgendaLevel.Manager, () => count.At)));

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

    // Said at once: until somebody looks, a storefront learns nothing.
    private static AgendaRow Stopped(House house, StoppedEndpoint endpoint, ShopRules rules) => AgendaPlan.Build(
        house.Announcements, AgendaKind.WebhookStopped, endpoint.Id, endpoint.Since, rules.Calendar.NextOpening(endpoint.Since),
        endpoint.Gone ? $"{endpoint.Name} wants no messages any more" : $"No message reaches {endpoint.Name}: sending is paused",
        (AgendaLevel.Manager, () => endpoint.Since));

    // The desk telephones; who is to be told stands with the letter, not on the agenda.
    private static AgendaRow Unsent(House house, UnsentLetter letter, ShopCalendar calendar) => AgendaPlan.Build(
        house.Announcements, AgendaKind.LetterUnsent, letter.Letter, letter.Since, calendar.NextOpening(letter.Since),
        $"A letter about {string.Join(", ", letter.About)} could not be sent: telephone them",
        (AgendaLevel.Due, () => letter.Since),
        (AgendaLevel.Overdue, () => calendar.AfterWorkingHours(letter.Since, AgendaPlan.OverdueAfter)),
        (AgendaLevel.Manager, () => calendar.NextWorkingDay(letter.Since)));

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
