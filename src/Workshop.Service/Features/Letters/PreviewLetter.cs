using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Letters;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Letters;

public sealed record PreviewBody
{
    /// <summary>Which of several of its kind; the newest where left out.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string? Occasion { get; init; }

    /// <summary>To whom, by the customer's id; the first who would be told where left out.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string? Customer { get; init; }
}

/// <summary>A letter as it would be sent today; nothing is sent, and the address of the customer's page is made only when it is.</summary>
public sealed record LetterPreview(LetterMoment Moment, string Occasion, string Customer, string Language, string Subject, string Text, string Html);

/// <summary>Shows what a letter would say, also one that is not due yet or not said any more.</summary>
public static class PreviewLetter
{
    public static async Task<Results<Done<LetterPreview>, ProblemHttpResult>> Handle(
        string label, string moment, JsonBody<PreviewBody> body, Caller caller, Reader reader, ShopRulesSource source, IClock clock, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (await reader.History(caller.Site, job, cancel) is not { Job.TakenIn: true } history)
        {
            return PathLabel.NoJob();
        }

        var (rules, now) = (await source.Read(caller.Site, cancel), clock.GetCurrentInstant());
        if (Word.Read<LetterMoment>(moment) is not { } asked)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "There is no such moment.");
        }

        return await reader.Read<Results<Done<LetterPreview>, ProblemHttpResult>>(
            connection =>
            {
                var read = LetterReading.Of(connection, caller.Site, history, rules);
                var occasion = read.Occasions(now).LastOrDefault(one => one.Moment == asked && (body.Value.Occasion is null || one.Occasion == body.Value.Occasion));
                var customer = body.Value.Customer ?? LetterPlan.Readers(read.Job, asked).First();
                return occasion is null ? Problems.Of(ProblemCatalogue.NoSuchThing, "Nothing of this moment is to be said of the job.")
                    : CustomerStore.Find(connection, caller.Site, customer) is not { } stored ? Problems.BadFields([new Core.Journal.Fault("/customer", "There is no customer with this id")])
                    : Shown(
                        MakeLetter.Of(
                            new LetterHouse(connection, caller.Site), stored, [new LetterParagraph(read, occasion)], rules.Calendar.DateOf(now),
                            LetterPages.Shown(rules, MakeLetter.LanguageOf(stored))),
                        occasion, stored);
            },
            cancel);
    }

    private static Done<LetterPreview> Shown(MadeLetter made, LetterOccasion occasion, StoredCustomer reader) => Answer.Done(new LetterPreview(
        occasion.Moment, occasion.Occasion, reader.Id, LanguageAsked.Tag(MakeLetter.LanguageOf(reader)), made.Subject, made.Text, made.Html));
}
