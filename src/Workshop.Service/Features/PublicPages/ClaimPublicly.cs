using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Features.Warranties;
using Workshop.Service.Http.Answers;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PublicPages;

public sealed record PublicClaimBody
{
    /// <summary>What is wrong, in the customer's own words.</summary>
    [StringLength(4_000, MinimumLength = 1)]
    public required string Text { get; init; }

    /// <summary>The postcode of the address, or the last four digits of the telephone number.</summary>
    [StringLength(40, MinimumLength = 1)]
    public required string SecondFactor { get; init; }
}

/// <summary>A claim that the house has.</summary>
/// <param name="Claim">1, 2, 3 … of this watch.</param>
/// <param name="ReportedOn">The day that decides whether it is in time, if the watch then arrives soon enough.</param>
/// <param name="ArrivesBy">The day by which it is to arrive for that; absent where there is no such day, and where it has arrived.</param>
public sealed record PublicClaimed(int Claim, LocalDate ReportedOn, LocalDate? ArrivesBy, string Words);

/// <summary>A customer reports a fault from their page: today's date counts. The same words again on the same day are the same claim.</summary>
public static class ClaimPublicly
{
    public static Task<Results<Done<PublicClaimed>, ProblemHttpResult>> Handle(
        string token, PublicForm<PublicClaimBody> form, PublicLanguage language, HttpContext context, Reader reader, Writer writer) => PublicPost.Do(
            token, form.Value.SecondFactor, parties => parties.All, context, reader, writer, customer => Claim(customer, form.Value.Text.Trim(), language.Best));

    private static Results<Done<PublicClaimed>, ProblemHttpResult> Claim(CustomersTurn customer, string text, Language language)
    {
        var (turn, label, job) = (customer.Turn, customer.Link.Label, customer.History.Job);
        if (job.Warranty.HandedOverOn is null)
        {
            return TellWearPublicly.NotYet();
        }

        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var number = customer.History.Entries.Where(entry => entry.Counts).Select(entry => entry.Event).OfType<ClaimReported>().LastOrDefault(one => one.ReportedOn == today && one.Text == text)?.Claim;
        if (number is null)
        {
            var taken = ReportClaim.Report(turn, label, new ClaimBody { Text = text }, customer.Caller, language);
            if (taken.Result is ProblemHttpResult problem)
            {
                return PublicPost.HandOn(problem);
            }

            number = ((Made<ClaimView>)taken.Result).Value.Claim;
        }

        var after = turn.History(label)!.Job;
        var view = ClaimView.Of(after, [], after.Warranty.Claims.First(one => one.Number == number), turn.Rules.Calendar, customer.Caller, language);
        var arrives = view.ReceivedOn is null ? view.ArrivesBy : null;
        var words = arrives is { } by
            ? Phrase.Of("We have your report. The day of your report counts if the watch arrives by {0}.", new Spoken(by))
            : Phrase.Of("We have your report, and get in touch with you.");
        return Answer.Done(new PublicClaimed(view.Claim, view.ReportedOn, arrives, words.In(language)));
    }
}
