using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Labels;
using Workshop.Core.Promises;
using Workshop.Core.Shop;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Shop;

/// <summary>A promise that another calendar counts otherwise.</summary>
/// <param name="PromisedOn">What the customer was told last: it stands, whatever the calendar says.</param>
/// <param name="From">The day that the rule gives now.</param>
/// <param name="To">The day that it would give.</param>
public sealed record PromiseInQuestion(Label Job, LocalDate PromisedOn, LocalDate From, LocalDate To);

/// <summary>A job that would be done on another day.</summary>
/// <param name="AtRisk">After the promised day, where one was promised.</param>
/// <param name="WasAtRisk">So it is already.</param>
public sealed record ForecastInQuestion(Label Job, LocalDate? PromisedOn, LocalDate From, LocalDate To, bool AtRisk, bool WasAtRisk);

/// <summary>A line of the agenda that would be done at another time.</summary>
/// <param name="Job">Absent for what belongs to no job.</param>
/// <param name="Due">The physical moment as it is now. That of a worn check is elapsed time and stays; the task moves to when somebody is there.</param>
/// <param name="To">Absent where the line would be none any more.</param>
public sealed record TaskInQuestion(Label? Job, AgendaKind Kind, string Ref, Instant? Due, Instant? From, Instant? To);

/// <param name="JobsLookedAt">Every open job.</param>
/// <param name="AtRisk">Jobs that would be at risk and are not now.</param>
public sealed record CalendarCounts(int JobsLookedAt, int JobsConcerned, int Promises, int Forecasts, int AtRisk, int Checks, int Tasks);

/// <summary>What a calendar would move. Each list has at most 500 elements; the counts are of all.</summary>
/// <param name="Checks">Worn checks.</param>
/// <param name="Tasks">All other lines of the agenda.</param>
public sealed record CalendarConsequences(
    CalendarCounts Counts, ImmutableArray<PromiseInQuestion> Promises, ImmutableArray<ForecastInQuestion> Forecasts,
    ImmutableArray<TaskInQuestion> Checks, ImmutableArray<TaskInQuestion> Tasks);

/// <summary>A calendar as it was saved, or as it would be.</summary>
/// <param name="Asked">True: nothing was stored, this is what would be.</param>
/// <param name="Version">Absent where it was only asked.</param>
/// <param name="RulesVersion">The version of the shop's rules that began with it.</param>
/// <param name="Remarks">Through when the holidays of the region are known, and which of them are in doubt.</param>
/// <param name="Moves">What would move, where it was asked.</param>
public sealed record CalendarAnswer(
    string Id, bool Asked, long? Version, Instant? SavedAt, long? RulesVersion, ImmutableArray<string> Remarks, CalendarDocument Document, CalendarConsequences? Moves);

/// <summary>
/// Saves the shop's calendar, or answers what saving it would move and stores nothing. A promise that was given stands; what falls due in
/// open jobs is computed anew when it is saved.
/// </summary>
public static class AskCalendar
{
    private const int LongestList = 500;

    /// <param name="ask">True: nothing is stored.</param>
    public static async Task<Results<Seen<CalendarAnswer>, ProblemHttpResult>> Handle(
        bool? ask, JsonBody<CalendarDocument> body, SeenOrNew seen, Caller caller, Writer writer, CancellationToken cancel) =>
        await writer.Turn(caller.Site, turn => ask == true ? Ask(turn, body.Value, seen) : Save(turn, body.Value, seen, caller), cancel);

    /// <summary>What other rules would move in open jobs and in the house. Stores nothing.</summary>
    public static CalendarConsequences Of(Turn turn, ShopRules before, ShopRules after)
    {
        var open = turn.OpenJobs();
        var changes = open.Select(label => (Label: label, Change: CalendarChange.Of(
                turn.History(label)!.Job, before, after, (job, rules) => PromiseForecast.Of(job, rules)?.On(rules.Calendar.DateOf(turn.Now)))))
            .Where(one => !one.Change.IsNone)
            .ToArray();
        var promises = changes.Where(one => one.Change is { Promise: not null, PromisedOn: not null })
            .Select(one => new PromiseInQuestion(one.Label, one.Change.PromisedOn!.Value, one.Change.Promise!.From, one.Change.Promise.To)).ToArray();
        var forecasts = changes.Where(one => one.Change.Forecast is not null)
            .Select(one => (one.Label, one.Change.PromisedOn, Forecast: one.Change.Forecast!))
            .Select(one => new ForecastInQuestion(one.Label, one.PromisedOn, one.Forecast.From, one.Forecast.To, one.Forecast.AtRisk, one.Forecast.WasAtRisk)).ToArray();
        var rows = changes.SelectMany(one => one.Change.Tasks, (one, task) => Shown(one.Label, task))
            .Concat(CalendarChange.TasksBetween(HouseAgenda.Plan(turn, before), HouseAgenda.Plan(turn, after)).Select(task => Shown(null, task)))
            .OrderBy(row => row.From ?? Instant.MaxValue).ToArray();
        var checks = rows.Where(row => row.Kind == AgendaKind.WearCheck).ToArray();
        var tasks = rows.Where(row => row.Kind != AgendaKind.WearCheck).ToArray();
        return new CalendarConsequences(
            new CalendarCounts(open.Count, changes.Length, promises.Length, forecasts.Length, forecasts.Count(one => one is { AtRisk: true, WasAtRisk: false }), checks.Length, tasks.Length),
            [.. promises.OrderBy(one => one.PromisedOn).Take(LongestList)],
            [.. forecasts.OrderByDescending(one => one.AtRisk).ThenBy(one => one.PromisedOn ?? LocalDate.MaxIsoValue).Take(LongestList)],
            [.. checks.Take(LongestList)],
            [.. tasks.Take(LongestList)]);
    }

    private static Results<Seen<CalendarAnswer>, ProblemHttpResult> Ask(Turn turn, CalendarDocument sent, SeenOrNew seen)
    {
        if (SaveDocument.Refusal(turn, ShopDocuments.Only, sent, seen) is { } refusal)
        {
            return refusal;
        }

        var (before, document) = (turn.Rules, sent.CompletedBy(ShopDocuments.CheckFor(turn, ShopDocuments.Only)));
        var moves = Of(turn, before, before with { Calendar = document.ToCalendar(before.Calendar.Zone) });
        return Answer.Seen(
            ShopDocuments.Newest(turn, ShopRulesReader.Calendar)?.Version ?? 0,
            new CalendarAnswer(ShopDocuments.Only, true, null, null, null, [.. document.Remarks()], document, moves));
    }

    private static Results<Seen<CalendarAnswer>, ProblemHttpResult> Save(Turn turn, CalendarDocument sent, SeenOrNew seen, Caller caller)
    {
        var before = turn.Rules.Calendar;
        return SaveDocument.Save(turn, ShopDocuments.Only, sent, seen, caller).Result switch
        {
            Seen<SavedDocument<CalendarDocument>> saved => Answered(turn, before, saved.Value),
            Made<SavedDocument<CalendarDocument>> made => Answered(turn, before, made.Value),
            ProblemHttpResult refused => refused,
            _ => throw new InvalidOperationException("A document is saved, made or refused."),
        };
    }

    private static Seen<CalendarAnswer> Answered(Turn turn, ShopCalendar before, SavedDocument<CalendarDocument> saved)
    {
        TellClosures.After(turn, before, saved.Document.Closures, saved.Version);
        return Answer.Seen(saved.Version, new CalendarAnswer(saved.Id, false, saved.Version, saved.SavedAt, saved.RulesVersion, saved.Remarks, saved.Document, null));
    }

    private static TaskInQuestion Shown(Label? job, MovedTask task) => new(job, task.Kind, task.Ref, task.Due, task.From, task.To);
}
