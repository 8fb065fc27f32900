using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Agenda;

/// <summary>One thing that falls due.</summary>
/// <param name="Job">The job's label.</param>
/// <param name="Due">The physical moment; absent while a check is paused.</param>
/// <param name="Task">When somebody is there to do it: the next opening.</param>
/// <param name="Level">How loud it has become or will be next: due, overdue, manager.</param>
public sealed record AgendaLine(string Job, AgendaKind Kind, string Ref, Instant? Due, Instant? Task, AgendaLevel Level, bool Overdue, string Line);

/// <summary>What falls due, overdue first.</summary>
public static class ReadAgenda
{
    /// <param name="due"><c>today</c> (the default: everything to the end of the local day, and what is overdue), <c>overdue</c>, or <c>all</c>.</param>
    public static async Task<Results<Paged<AgendaLine>, ProblemHttpResult>> Handle(
        Page page, Caller caller, AgendaStore store, ShopRulesSource rules, IClock clock, string? due, CancellationToken cancel)
    {
        var now = clock.GetCurrentInstant();
        var calendar = (await rules.Read(caller.Site, cancel)).Calendar;
        long? before = due switch
        {
            null or "today" => Microseconds.Of(calendar.EndOfDay(calendar.DateOf(now))),
            "overdue" => Microseconds.Of(now),
            "all" => long.MaxValue,
            _ => null,
        };
        if (before is null)
        {
            return Problems.BadParameter("due", "This is none of today, overdue, all.");
        }

        var after = page.After is [var task, var stream, var kind, var reference] && long.TryParse(task, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var moment)
            ? (moment, stream, kind, reference)
            : (long.MinValue, "", "", "");
        var rows = await store.List(caller.Site, before.Value, after, page.Limit + 1, cancel);
        var keys = rows.ToDictionary(Shown, row => row);
        return page.Of<AgendaLine>([.. rows.Select(Shown)], line => KeyOf(keys[line]));

        AgendaLine Shown(StoredAgendaRow row) => new(
            row.Stream["job/".Length..],
            Word.Read<AgendaKind>(row.Kind)!.Value,
            row.Ref,
            Microseconds.Read(row.Due),
            Microseconds.Read(row.Task),
            Word.Read<AgendaLevel>(row.Level)!.Value,
            Microseconds.Read(row.Task) is { } at && at < now,
            row.Line);
    }

    private static string[] KeyOf(StoredAgendaRow row) =>
        [(row.Task ?? AgendaStore.Never).ToString(CultureInfo.InvariantCulture), row.Stream, row.Kind, row.Ref];
}
