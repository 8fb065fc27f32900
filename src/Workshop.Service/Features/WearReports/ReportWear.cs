using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearReports;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.WearReports;

/// <summary>What a customer says of how their watch runs, whoever writes it down.</summary>
public abstract record WearSaid
{
    /// <summary>How far it went out over those days, without a sign, in <c>unit</c>.</summary>
    [Range(0, 1_000_000)]
    public decimal? Amount { get; init; }

    /// <summary>As the customer said it: two minutes are less exact than 120 seconds. Seconds where left out.</summary>
    public WearUnit? Unit { get; init; }

    /// <summary>Left out where nobody looked: then it is asked back, never guessed.</summary>
    public WearDirection? Direction { get; init; }

    /// <summary>Days over which it went out.</summary>
    [Range(0.01, 3_650)]
    public decimal? OverDays { get; init; }

    public bool? Stopped { get; init; }

    /// <summary>Whether the date changes at midnight.</summary>
    public bool? DateRight { get; init; }

    /// <summary>Whether it is worn by night.</summary>
    public bool? WornByNight { get; init; }

    /// <summary>How it lies by night, where it is taken off.</summary>
    public Position? NightPosition { get; init; }

    public bool? Sport { get; init; }

    /// <summary>Telephone covers, clasps of bags, loudspeakers.</summary>
    public bool? NearMagnets { get; init; }

    /// <summary>The customer's own words.</summary>
    [StringLength(4_000, MinimumLength = 1)]
    public string? Text { get; init; }
}

public sealed record WearReportBody : WearSaid
{
    public WearReportBody()
    {
    }

    /// <summary>What was said, of today.</summary>
    public WearReportBody(WearSaid said)
        : base(said)
    {
    }

    /// <summary>The day the customer told it; today where left out.</summary>
    public LocalDate? ReportedOn { get; init; }

    public ReportChannel? Channel { get; init; }

    /// <summary>The badge of whoever heard it.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>A customer tells how their watch runs. Kept whatever the figures say; outside the limits it is an invitation, not by itself a claim.</summary>
public static class ReportWear
{
    public static async Task<Once<Results<Made<WearReportView>, ProblemHttpResult>>> Handle(
        string label, JsonBody<WearReportBody> body, Once once, Caller caller, LanguageAsked language, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Report(turn, job, body.Value, caller, language.Best))
            : new Once<Results<Made<WearReportView>, ProblemHttpResult>>(refusal);

    internal static Results<Made<WearReportView>, ProblemHttpResult> Report(Turn turn, Label label, WearReportBody body, Caller caller, Language language = Language.English)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        if (history.Job.Warranty.HandedOverOn is not { } left)
        {
            return Problems.Of(ProblemCatalogue.NotHandedOver, "A customer wears the watch only after hand-over.", ("job", label));
        }

        var today = turn.Rules.Calendar.DateOf(turn.Now);
        if (Faults(body, left, today).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var number = history.Job.WearReports.Reports.Length + 1;
        var told = new WearReported
        {
            Report = number,
            ReportedOn = body.ReportedOn ?? today,
            Amount = body.Amount,
            Unit = body.Amount is null ? body.Unit : body.Unit ?? WearUnit.Seconds,
            Direction = body.Direction,
            OverDays = body.OverDays,
            Stopped = body.Stopped,
            DateRight = body.DateRight,
            WornByNight = body.WornByNight,
            NightPosition = body.NightPosition,
            Sport = body.Sport,
            NearMagnets = body.NearMagnets,
            Channel = body.Channel,
            Text = body.Text,
        };
        var decision = DeskCommand.Say(turn, history, caller, told, body.Person);
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Made($"/v1/jobs/{label}/wear-reports/{number}", decision.Job.Version, WearReportView.Of(decision.Job.WearReports.Find(number)!, turn.History(label)!.Entries, today, caller, language));
    }

    private static IEnumerable<Fault> Faults(WearReportBody body, LocalDate left, LocalDate today)
    {
        if (body.ReportedOn is { } day && (day < left || day > today))
        {
            yield return new Fault("/reportedOn", $"It left the house on {left:uuuu-MM-dd}, and today is {today:uuuu-MM-dd}");
        }

        if (body.Amount is not null && body.OverDays is null)
        {
            yield return new Fault("/overDays", "Over how many days did it go out by that?");
        }

        if (body.Amount is null && (body.Direction is not null || body.OverDays is not null || body.Unit is not null))
        {
            yield return new Fault("/amount", "By how much did it go out?");
        }

        if (body is { Stopped: true, Amount: not null })
        {
            yield return new Fault("/amount", "A watch that stopped has no rate: say one of the two");
        }

        if (body is { Amount: null, Stopped: null, DateRight: null, Text: null, Sport: null, NearMagnets: null, WornByNight: null, NightPosition: null })
        {
            yield return new Fault("", "A report says something: how far it went out, that it stopped, or the customer's words");
        }
    }
}
