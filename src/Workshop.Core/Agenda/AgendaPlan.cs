using System.Collections.Immutable;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Parties;
using Workshop.Core.Promises;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.WearChecks;
using Workshop.Core.WearReports;
using Workshop.Core.Words;

namespace Workshop.Core.Agenda;

/// <summary>
/// What falls due in a job, computed from the folded job and the shop's calendar, people and benches. The physical moment never moves for a closed door; the
/// task moves to the next opening. What was announced already is in the job itself, so "once" needs no other memory.
/// </summary>
public static class AgendaPlan
{
    /// <summary>Working time after which a due thing is overdue. Common practice.</summary>
    public static readonly Duration OverdueAfter = Duration.FromHours(4);

    /// <summary>Time after receipt within which a claim is to be decided where no warranty line says so. Common practice.</summary>
    public static readonly Duration ClaimDecidedWithin = Duration.FromHours(48);

    public static ImmutableArray<AgendaRow> For(Job job, ShopRules rules) => For(job, rules, rules.Calendar);

    private static ImmutableArray<AgendaRow> For(Job job, ShopRules rules, ShopCalendar calendar) =>
        !job.TakenIn || job.Standings.Of(Stage.Closed).State == StageState.Done ? []
        : [
            .. WornChecks(job, calendar),
            .. ReserveLooks.Of(job, calendar),
            .. StaticChecks(job, calendar),
            .. Repeats(job),
            .. Reviews(job),
            .. Queries(job),
            .. MixUps(job),
            .. Grounds(job),
            .. Dates(job, calendar),
            .. AtRisk(job, rules),
            .. Claims(job, calendar),
            .. Disputes(job),
            .. LostParcels(job),
            .. Told(job, calendar),
            .. Closing(job, calendar),
            .. HandOffs.Untaken(job, rules),
            .. HandOffs.Orphans(job, rules),
            .. HandOffs.WithFirms(job, rules),
            .. PartsLate(job, calendar),
            .. PartyAgenda.Of(job, rules),
        ];

    private static IEnumerable<AgendaRow> WornChecks(Job job, ShopCalendar calendar)
    {
        if (job.WearChecks.Running is not { } running)
        {
            yield break;
        }

        var reference = running.Start.ToString();
        if (running.PausedSince is { } since)
        {
            yield return new AgendaRow { Kind = AgendaKind.WearCheck, Ref = reference, Line = $"Worn check, paused since {since}" };
            yield break;
        }

        // A reading that settled nothing says itself when the next one will.
        var due = running.Due!.Value;
        if (running.Readings is [.., { Verdict: WearVerdict.Inconclusive, SettledAfter: { } settled }] && running.StartedAt + settled is var later && later > due)
        {
            due = later;
        }

        // Nobody is called to account by a moment that nobody has confirmed: it is said once, as what it is.
        yield return running.Unconfirmed
            ? Once(job, calendar, AgendaKind.WearCheck, reference, due, "Read the worn check; its start is not confirmed")
            : Row(job, calendar, AgendaKind.WearCheck, reference, due, "Read the worn check");
    }

    // The task lies inside the window where somebody is there in it; a start that nobody could measure was refused.
    private static IEnumerable<AgendaRow> StaticChecks(Job job, ShopCalendar calendar)
    {
        if (job.WearChecks.RunningStatic is { } still)
        {
            yield return Build(
                job, AgendaKind.WearCheck, still.Start.ToString(), still.Due, StaticStart.TaskOf(still.StartedAt, calendar), "Measure and read the static check, 23 to 25 h after its start",
                (AgendaLevel.Due, () => still.Due),
                (AgendaLevel.Overdue, () => calendar.AfterWorkingHours(still.Due, OverdueAfter)),
                (AgendaLevel.Manager, () => calendar.NextWorkingDay(still.Due)));
        }
    }

    private static IEnumerable<AgendaRow> Repeats(Job job)
    {
        if (job.WearChecks is not { Running: null, LastJudged: { EndedAt: { } at } last, CountedFails: >= 2 and var fails } || job.Standings.Stands(Stage.WearCheck))
        {
            yield break;
        }

        var limit = job.Route?.Wear?.FailsBeforeTheManager ?? int.MaxValue;
        yield return ForTheManager(
            job, AgendaKind.WearCheckFails, last.Start.ToString(), at,
            fails >= limit ? $"Worn check failed {fails} times: decide how to go on" : $"Worn check failed {fails} times: a second watchmaker looks");
    }

    private static IEnumerable<AgendaRow> Reviews(Job job) =>
        job.Reviews.Select(review => ForTheManager(job, AgendaKind.Review, review.Id.ToString(), review.At, $"Reported late, changed nothing: {review.Type}"));

    // What waits for a review says so itself; a query beside them is the service's own question, and a loss is nobody else's to decide.
    private static IEnumerable<AgendaRow> Queries(Job job) =>
        job.Holds.Standing
            .Where(hold => hold.Reason == HoldReason.Loss || (hold is { Reason: HoldReason.Query, Because: { } because } && job.Reviews.All(review => review.Id != because)))
            .Select(hold => ForTheManager(job, AgendaKind.Query, hold.Cause.ToString(), hold.From, $"Held until a manager decides: {hold.Text}"));

    // The closing that was refused may be tried again and again: it is one thing to look at.
    private static IEnumerable<AgendaRow> MixUps(Job job) =>
        job.Holds.Standing.Where(hold => hold.Reason == HoldReason.MixUp).Take(1)
            .Select(hold => ForTheManager(job, AgendaKind.MixUp, "mix-up", hold.From, $"Held: {hold.Text}"));

    private static IEnumerable<AgendaRow> Grounds(Job job) =>
        job.Standings.GroundLost.Select(lost => ForTheManager(
            job, AgendaKind.GroundLost, $"{Word.Of(lost.Stage)}/{lost.Because}", lost.Since,
            lost.Urgent ? $"Out of the house, and {WordLists.Of(lost.Stage, Language.English)} no longer stands" : $"{WordLists.Of(lost.Stage, Language.English)} has lost its ground"));

    private static IEnumerable<AgendaRow> Dates(Job job, ShopCalendar calendar)
    {
        if (job.Promise.On is { } on && !job.Standings.IsReady && !job.Standings.HandedOver)
        {
            yield return Row(job, calendar, AgendaKind.Promise, "promise", calendar.EndOfDay(on), $"Promised by {on:yyyy-MM-dd}");
        }

        if (job.Quotes.Newest is { Accepted: null } newest && job.Quotes.IsForThisKind(newest))
        {
            yield return Once(job, calendar, AgendaKind.QuoteExpiry, $"{newest.Version}", calendar.EndOfDay(newest.ValidThrough), $"Quote {newest.Version} has run out unanswered");
        }

        if (job.Quotes.AsksForAVersion is { } rise && !job.Standings.HandedOver)
        {
            yield return Row(job, calendar, AgendaKind.QuoteNeeded, $"{rise.Version}/{rise.Line}", rise.At, $"Send a new version: {rise.Line} of quote {rise.Version} has become dearer");
        }

        foreach (var hold in job.Holds.Standing.Where(hold => hold.LookAgainOn is not null))
        {
            var opening = calendar.NextOpening(hold.LookAgainOn!.Value.AtStartOfDayInZone(calendar.Zone).ToInstant());

            // A legal hold is the managers' alone; the agenda is everybody's.
            var shown = Word.Of(hold.Reason == HoldReason.Legal ? HoldReason.Query : hold.Reason);
            yield return Once(job, calendar, AgendaKind.HoldUntil, hold.Cause.ToString(), opening, $"Look again: held for {shown}");
        }
    }

    // One row for a promised date, said once however often the moment moves: work that is done moves it later, a closure earlier.
    private static IEnumerable<AgendaRow> AtRisk(Job job, ShopRules rules)
    {
        if (job.Promise.On is not { } on || PromiseRisk.From(job, rules) is not { } from)
        {
            yield break;
        }

        var reference = LocalDatePattern.Iso.Format(on);
        var row = Build(
            job, AgendaKind.PromiseAtRisk, reference, from, rules.Calendar.NextOpening(from), $"Promised by {reference}: from here on the work left no longer fits",
            (AgendaLevel.Manager, () => from));
        yield return job.Announcements.Said.Any(said => said.Kind == AgendaKind.PromiseAtRisk && said.Ref == reference) ? row with { Wake = null } : row;
    }

    // Said once the day is over; the manager's one working day later. What has no day is nobody's to call late.
    private static IEnumerable<AgendaRow> PartsLate(Job job, ShopCalendar calendar)
    {
        foreach (var part in job.Parts.Ordered.Where(one => one is { Open: > 0, On: not null }))
        {
            var due = calendar.EndOfDay(part.On!.Value);
            yield return Build(
                job, AgendaKind.PartLate, $"{part.Order}/{part.Part}", due, calendar.NextOpening(due), $"{part.Part} of order {part.Order} was to come by {part.On:yyyy-MM-dd}",
                (AgendaLevel.Due, () => due),
                (AgendaLevel.Manager, () => calendar.NextWorkingDay(due)));
        }
    }

    private static IEnumerable<AgendaRow> Claims(Job job, ShopCalendar calendar)
    {
        foreach (var claim in job.Warranty.Claims.Where(claim => claim.Covered is null))
        {
            var received = claim.ReceivedAt ?? claim.ReceivedOn?.AtStartOfDayInZone(calendar.Zone).ToInstant() ?? claim.ReportedAt;
            yield return Row(job, calendar, AgendaKind.ClaimUndecided, $"{claim.Number}", received + (job.Warranty.DecideWithin ?? ClaimDecidedWithin), $"Decide claim {claim.Number}");
        }
    }

    private static IEnumerable<AgendaRow> Disputes(Job job) =>
        job.Disputes.All.Where(one => one.Stands).Select(one => ForTheManager(job, AgendaKind.Dispute, $"{one.Number}", one.OpenedAt, $"Settle dispute {one.Number} with the customer"));

    private static IEnumerable<AgendaRow> LostParcels(Job job) =>
        job.Shipments.All.Where(one => one.LostAt is not null).Select(one => ForTheManager(
            job, AgendaKind.ParcelLost, one.Id, one.LostAt!.Value, $"Lost with {one.Carrier}{(one.Number is { } number ? $", {number}" : "")}: tell the customer, and claim the insured sum"));

    private static IEnumerable<AgendaRow> Told(Job job, ShopCalendar calendar)
    {
        if (job.WearReports.Waiting() is { } report)
        {
            yield return Row(job, calendar, AgendaKind.WearReport, $"{report.Number}", report.At, WearReportSentences.Wants(report).In(Language.English));
        }
    }

    private static IEnumerable<AgendaRow> Closing(Job job, ShopCalendar calendar)
    {
        if (!job.Standings.HandedOver || job.Warranty.Claims.Any(claim => claim.Covered is null))
        {
            yield break;
        }

        var left = calendar.DateOf(job.Standings.Of(Stage.HandedOver).Since ?? default);
        var last = job.Warranty.Lines.Select(line => line.LastDay).DefaultIfEmpty(left).Max();
        yield return Once(job, calendar, AgendaKind.WarrantyOver, "warranty", calendar.EndOfDay(last), "The last warranty line has run out");
    }

    /// <summary>Said when it falls due, four working hours later, and to the manager one working day later.</summary>
    internal static AgendaRow Row(Job job, ShopCalendar calendar, AgendaKind kind, string reference, Instant due, string line) =>
        Build(job, kind, reference, due, calendar.NextOpening(due), line,
            (AgendaLevel.Due, () => due),
            (AgendaLevel.Overdue, () => calendar.AfterWorkingHours(due, OverdueAfter)),
            (AgendaLevel.Manager, () => calendar.NextWorkingDay(due)));

    private static AgendaRow Once(Job job, ShopCalendar calendar, AgendaKind kind, string reference, Instant due, string line) =>
        Build(job, kind, reference, due, calendar.NextOpening(due), line, (AgendaLevel.Due, () => due));

    internal static AgendaRow ForTheManager(Job job, AgendaKind kind, string reference, Instant since, string line) =>
        Build(job, kind, reference, since, since, line, (AgendaLevel.Manager, () => since));

    internal static AgendaRow Build(Job job, AgendaKind kind, string reference, Instant due, Instant task, string line, params ReadOnlySpan<(AgendaLevel Level, Func<Instant> At)> says) =>
        Build(job.Announcements, kind, reference, due, task, line, says);

    /// <param name="said">What was announced already.</param>
    /// <param name="says">What is to be said, in order of time; the first that was not said yet is the row's next wake.</param>
    internal static AgendaRow Build(AnnouncementLog said, AgendaKind kind, string reference, Instant due, Instant task, string line, params ReadOnlySpan<(AgendaLevel Level, Func<Instant> At)> says)
    {
        var row = new AgendaRow { Kind = kind, Ref = reference, Due = due, Task = task, Line = line, Level = says[^1].Level };
        foreach (var (level, at) in says)
        {
            if (!said.Has(kind, reference, level, due))
            {
                return row with { Wake = at(), Level = level };
            }
        }

        return row;
    }
}
