using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.House;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Agenda;

/// <summary>One thing that falls due.</summary>
/// <param name="Job">The job's label; absent for a thing of the house, which <c>ref</c> names.</param>
/// <param name="Due">The physical moment; absent while a check is paused.</param>
/// <param name="Task">When somebody is there to do it: the next opening.</param>
/// <param name="Level">How loud it has become or will be next: due, overdue, manager.</param>
public sealed record AgendaLine(string? Job, AgendaKind Kind, string Ref, Instant? Due, Instant? Task, AgendaLevel Level, bool Overdue, string Line);

/// <summary>What falls due, overdue first.</summary>
public static class ReadAgenda
{
    private const string JobStream = "job/";

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
            return Problems.BadParameter("due", "This is none of today, overdue, all");
        }

        if (Seen(page.After) is not { } after)
        {
            return Problems.BadParameter("cursor", "This is no cursor of this list; take it from the Link of the page before");
        }

        var rows = await store.List(caller.Site, before.Value, after, page.Limit + 1, cancel);
        return page.Of<AgendaLine>([.. rows.Select(row => Shown(row, now))], KeyOf);
    }

    private static AgendaLine Shown(StoredAgendaRow row, Instant now) => new(
        row.Stream.StartsWith(JobStream, StringComparison.Ordinal) ? row.Stream[JobStream.Length..] : null,
        Word.Read<AgendaKind>(row.Kind)!.Value,
        row.Ref,
        Microseconds.Read(row.Due),
        Microseconds.Read(row.Task),
        Word.Read<AgendaLevel>(row.Level)!.Value,
        Microseconds.Read(row.Task) is { } at && at < now,
        row.Line);

    private static (long Task, string Stream, string Kind, string Ref)? Seen(string[] after) => after switch
    {
        [] => (long.MinValue, "", "", ""),
        [var task, var stream, var kind, var reference] when long.TryParse(task, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var moment) =>
            (moment, stream, kind, reference),
        _ => null,
    };

    private static string[] KeyOf(AgendaLine line) =>
        [(Microseconds.Of(line.Task) ?? AgendaStore.Never).ToString(CultureInfo.InvariantCulture), line.Job is { } job ? JobStream + job : House.Stream, Word.Of(line.Kind), line.Ref];
}
