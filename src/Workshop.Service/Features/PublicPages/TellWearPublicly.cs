using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.WearReports;
using Workshop.Core.Words;
using Workshop.Service.Features.WearReports;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PublicPages;

public sealed record PublicWearBody : WearSaid
{
    /// <summary>The postcode of the address, or the last four digits of the telephone number.</summary>
    [StringLength(40, MinimumLength = 1)]
    public required string SecondFactor { get; init; }
}

/// <summary>What the house makes of it.</summary>
/// <param name="Report">1, 2, 3 … of this watch.</param>
/// <param name="RatePerDaySeconds">Seconds gained a day; absent where amount, direction or days were not said.</param>
/// <param name="PlusMinus">How finely it was said.</param>
/// <param name="AsksBack">Fast or slow is still to be said: send it again with a direction.</param>
public sealed record PublicWearReport(int Report, LocalDate ReportedOn, decimal? RatePerDaySeconds, decimal? PlusMinus, bool AsksBack, ImmutableArray<string> Words);

/// <summary>A customer tells from their page how the watch runs. The same again on the same day is the same report.</summary>
public static class TellWearPublicly
{
    public static Task<Results<Done<PublicWearReport>, ProblemHttpResult>> Handle(
        string token, PublicForm<PublicWearBody> form, PublicLanguage language, HttpContext context, Reader reader, Writer writer) => PublicPost.Do(
            token, form.Value.SecondFactor, parties => parties.All, context, reader, writer, customer => Tell(customer, form.Value, language.Best));

    private static Results<Done<PublicWearReport>, ProblemHttpResult> Tell(CustomersTurn customer, PublicWearBody body, Language language)
    {
        var (turn, job) = (customer.Turn, customer.History.Job);
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        if (job.Warranty.HandedOverOn is null)
        {
            return NotYet();
        }

        var told = new WearReportBody(body) { Channel = ReportChannel.Page };
        var before = customer.History.Entries.Where(entry => entry.Counts).Select(entry => entry.Event).OfType<WearReported>().LastOrDefault(one => one.ReportedOn == today && Says(one, told));
        var number = before?.Report;
        if (number is null)
        {
            var taken = ReportWear.Report(turn, customer.Link.Label, told, customer.Caller, language);
            if (taken.Result is ProblemHttpResult problem)
            {
                return PublicPost.HandOn(problem);
            }

            number = ((Made<WearReportView>)taken.Result).Value.Number;
        }

        var view = WearReportView.Of(turn.History(customer.Link.Label)!.Job.WearReports.Find(number.Value)!, [], today, customer.Caller, language);
        return Answer.Done(new PublicWearReport(
            view.Number, view.ReportedOn, view.RatePerDaySeconds, view.PlusMinusSeconds, view.Verdict == WearReportVerdict.AskedBack, [.. WordsOf(view, today).Select(words => words.In(language))]));
    }

    internal static ProblemHttpResult NotYet() => Problems.Of(ProblemCatalogue.NotHandedOver, "This comes after hand-over.");

    private static IEnumerable<Phrase> WordsOf(WearReportView view, LocalDate today)
    {
        yield return view.Verdict switch
        {
            WearReportVerdict.Within => Phrase.Of("That is within the limits it left us by."),
            WearReportVerdict.Outside => Phrase.Of("That is outside the limits it left us by: please bring it in, so that we can look."),
            WearReportVerdict.Inconclusive => Phrase.Of("Said so roughly it tells us too little; a reading in seconds over a week would help."),
            WearReportVerdict.AskedBack => Phrase.Of("Is it fast or slow? Please tell us which."),
            WearReportVerdict.Stopped => Phrase.Of("A watch that stops is to be looked at: please bring it in."),
            _ => Phrase.Of("Thank you; we have written it down."),
        };
        if (view.Verdict == WearReportVerdict.Outside && view.FreeUntil is { } until && today <= until)
        {
            yield return Phrase.Of("Adjusting it is free until {0}.", until);
        }
    }

    private static bool Says(WearReported one, WearReportBody told) =>
        (one.Amount, one.Unit, one.Direction, one.OverDays, one.Stopped, one.DateRight) == (told.Amount, told.Amount is null ? told.Unit : told.Unit ?? WearUnit.Seconds, told.Direction, told.OverDays, told.Stopped, told.DateRight)
        && (one.WornByNight, one.NightPosition, one.Sport, one.NearMagnets, one.Text, one.Channel) == (told.WornByNight, told.NightPosition, told.Sport, told.NearMagnets, told.Text, told.Channel);
}
