using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Parties;
using Workshop.Service.Features.Customers;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PublicPages;

/// <summary>A customer's turn: their page, their job, and who they are for the journal.</summary>
public sealed record CustomersTurn(Turn Turn, StoredLink Link, JobHistory History, Caller Caller);

/// <summary>
/// What every form of a page goes through: the page is there, fewer than so many wrong tries were made today, and the second factor holds.
/// Wrong tries are counted in the database, so that a restart forgives none; the right one takes none back.
/// </summary>
public static class PublicPost
{
    /// <param name="whose">Whose word counts in this.</param>
    internal static async Task<Results<Done<T>, ProblemHttpResult>> Do<T>(
        string token, string secondFactor, Func<PartyBook, IEnumerable<string>> whose, HttpContext context, Reader reader, Writer writer,
        Func<CustomersTurn, Results<Done<T>, ProblemHttpResult>> work)
    {
        context.Response.Headers.CacheControl = "no-store";
        if (await ReadPublicPage.Find(token, reader, context.RequestAborted) is not { } link)
        {
            return ReadPublicPage.NoPage();
        }

        var (answer, wait) = await writer.Turn(link.Site, turn => InTurn(turn, link.Id, secondFactor, whose, work), context.RequestAborted);
        if (wait is { } until)
        {
            context.Response.Headers.RetryAfter = Math.Max(1, (long)Math.Ceiling(until.TotalSeconds)).ToString(CultureInfo.InvariantCulture);
        }

        return answer;
    }

    private static (Results<Done<T>, ProblemHttpResult> Answer, Duration? Wait) InTurn<T>(
        Turn turn, string id, string secondFactor, Func<PartyBook, IEnumerable<string>> whose, Func<CustomersTurn, Results<Done<T>, ProblemHttpResult>> work)
    {
        // Revoked meanwhile is revoked.
        if (PublicLinkStore.OfId(turn, id) is not { Revoked: null } link || turn.History(link.Label) is not { } history)
        {
            return (ReadPublicPage.NoPage(), null);
        }

        var (rules, calendar) = (turn.Rules.PublicPages, turn.Rules.Calendar);
        var today = calendar.DateOf(turn.Now);
        var customers = whose(history.Job.Parties).Distinct(StringComparer.Ordinal).Select(one => CustomerStore.Find(turn, one)).OfType<StoredCustomer>().ToArray();
        var left = rules.WrongTriesADay - PublicLinkStore.Tries(turn, link.Id, today);
        var holds = SecondFactorCheck.Holds(secondFactor, customers, rules.SecondFactor);
        if (left <= 0)
        {
            return (Problems.Of(ProblemCatalogue.TriesUsedUp, "Too many tries were wrong today; the desk helps."), calendar.EndOfDay(today) - turn.Now);
        }

        if (!SecondFactorCheck.CanBeTold(customers, rules.SecondFactor))
        {
            return (AskTheDesk(), null);
        }

        if (!holds)
        {
            PublicLinkStore.CountTry(turn, link.Id, today);
            return (Problems.Of(ProblemCatalogue.SecondFactorWrong, "Postcode or telephone number is not the one we know.", ("triesLeft", left - 1)), null);
        }

        return (work(new CustomersTurn(turn, link, history, new Caller { Site = turn.Site, KeyId = $"page/{link.Id}", Role = Role.Desk, Source = $"/pages/{link.Id}" })), null);
    }

    /// <summary>What the house refuses for reasons of its own is no customer's matter: they are sent to the desk.</summary>
    internal static ProblemHttpResult AskTheDesk() => Problems.Of(ProblemCatalogue.AskTheDesk, "This cannot be done from the page; the desk helps.");

    /// <summary>What may be handed on of a refusal: the fields that are not right, and nothing else.</summary>
    internal static ProblemHttpResult HandOn(ProblemHttpResult refusal) =>
        refusal.ProblemDetails.Extensions.TryGetValue("code", out var code) && code is string known && known == ProblemCatalogue.BadFields.Code ? refusal : AskTheDesk();
}
