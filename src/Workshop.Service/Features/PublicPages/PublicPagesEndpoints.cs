using Microsoft.Net.Http.Headers;
using Workshop.Service.Features.Photos;
using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.PublicPages;

public static class PublicPagesEndpoints
{
    /// <summary>Where the pages of customers lie: the only addresses that other origins may read.</summary>
    public static readonly PathString Pages = "/v1/public";

    public static void MapPublicPages(this IEndpointRouteBuilder routes)
    {
        var links = routes.MapGroup("/v1/jobs/{label}/public-links").WithTags("Customer's page");
        links.MapPost("", EditPublicLinks.Make)
            .WithName("makePublicLink")
            .WithSummary("Make the address of a page on which a customer sees this job; its token is shown this once")
            .WithDescription("A repeat with the same Idempotency-Key is told of the link again, but not its address, of which only a hash is kept.")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.EditPublicLinks);
        links.MapGet("", EditPublicLinks.All)
            .WithName("readPublicLinks")
            .WithSummary("Every link of a job, without its address")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.EditPublicLinks);
        links.MapDelete("{id}", EditPublicLinks.Revoke)
            .WithName("revokePublicLink")
            .WithSummary("Revoke a link: nothing is at its address from now on")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.EditPublicLinks);

        var page = routes.MapGroup("/v1/public/{token}").WithTags("Customer's page");
        page.MapGet("", ReadPublicPage.Handle)
            .WithName("readPublicPage")
            .WithSummary("A job as its customer sees it")
            .WithDescription("Without a key, from any origin. The query language=de goes before the header Accept-Language. A token that nobody made and one that was revoked are answered the same.")
            .WithProblems(ProblemCatalogue.NoSuchPage)
            .AllowAnonymous();
        page.MapGet("photos/{sha256}", ReadPublicPage.Photo)
            .WithName("readPublicPhoto")
            .WithSummary("A photo that the desk has marked for the customer")
            .WithProblems(ProblemCatalogue.NoSuchPage)
            .Produces(StatusCodes.Status200OK, contentType: Picture.Jpeg, additionalContentTypes: [Picture.Png, Picture.WebP])
            .AllowAnonymous();
        page.MapPost("answer", AnswerPublicly.Handle)
            .WithName("answerPublicly")
            .WithSummary("The customer accepts or refuses the newest version of the quote")
            .WithDescription("Without a key, from any origin, as JSON or a plain form. The second factor is the postcode of the customer's address or the last four digits of their telephone number; after five wrong tries a day only the desk helps. The same answer again is the same.")
            .WithProblems(ProblemCatalogue.NoSuchPage, ProblemCatalogue.SecondFactorWrong, ProblemCatalogue.TriesUsedUp, ProblemCatalogue.QuoteSuperseded, ProblemCatalogue.QuoteAnswered, ProblemCatalogue.QuoteRunOut, ProblemCatalogue.AskTheDesk)
            .AllowAnonymous();
        page.MapPost("wear-report", TellWearPublicly.Handle)
            .WithName("tellWearPublicly")
            .WithSummary("The customer tells how the watch runs")
            .WithDescription("Without a key, from any origin, as JSON or a plain form; the second factor as for an answer. The same again on the same day is the same report.")
            .WithProblems(ProblemCatalogue.NoSuchPage, ProblemCatalogue.SecondFactorWrong, ProblemCatalogue.TriesUsedUp, ProblemCatalogue.NotHandedOver, ProblemCatalogue.AskTheDesk)
            .AllowAnonymous();
        page.MapPost("claim", ClaimPublicly.Handle)
            .WithName("claimPublicly")
            .WithSummary("The customer reports a fault under warranty; the day it is reported counts")
            .WithDescription("Without a key, from any origin, as JSON or a plain form; the second factor as for an answer. The same words again on the same day are the same claim.")
            .WithProblems(ProblemCatalogue.NoSuchPage, ProblemCatalogue.SecondFactorWrong, ProblemCatalogue.TriesUsedUp, ProblemCatalogue.NotHandedOver, ProblemCatalogue.AskTheDesk)
            .AllowAnonymous();

        // A browser asks first before it sends JSON to another origin.
        routes.MapMethods("/v1/public/{token}/{**form}", [HttpMethods.Options], AnswerPreflight).AllowAnonymous().ExcludeFromDescription();
        routes.MapMethods("/v1/public/{token}", [HttpMethods.Options], AnswerPreflight).AllowAnonymous().ExcludeFromDescription();
    }

    /// <summary>What any answer below <see cref="Pages"/> lets other origins do: read it, without credentials, which it never asks for.</summary>
    internal static void LetAnyOriginRead(IHeaderDictionary headers)
    {
        headers.AccessControlAllowOrigin = "*";
        headers.AccessControlExposeHeaders = $"{HeaderNames.ETag}, {HeaderNames.RetryAfter}";
        headers["Cross-Origin-Resource-Policy"] = "cross-origin";
    }

    private static void AnswerPreflight(HttpResponse response)
    {
        response.StatusCode = StatusCodes.Status204NoContent;
        response.Headers.AccessControlAllowMethods = "GET, POST";
        response.Headers.AccessControlAllowHeaders = "Content-Type, Accept-Language, If-None-Match";
        response.Headers.AccessControlMaxAge = "86400";
    }
}
