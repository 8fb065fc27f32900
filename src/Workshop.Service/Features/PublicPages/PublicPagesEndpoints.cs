using Workshop.Service.Features.Photos;
using Workshop.Service.Http;
using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.PublicPages;

public static class PublicPagesEndpoints
{
    public static void MapPublicPages(this IEndpointRouteBuilder routes)
    {
        var links = routes.MapGroup("/v1/jobs/{label}/public-links").WithTags("Customer's page");
        links.MapPost("", EditPublicLinks.Make)
            .WithName("makePublicLink")
            .WithSummary("Make the address of a page on which a customer sees this job; its token is shown this once")
            .WithDescription("A repeat with the same Idempotency-Key is told of the link again, but not its address, of which only a hash is kept.")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "view": "decide" }""")
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
            .WithProblems(ProblemCatalogue.NoSuchPage, ProblemCatalogue.SecondFactorWrong, ProblemCatalogue.TriesUsedUp, AnswerPublicly.Superseded, ProblemCatalogue.QuoteAnswered, AnswerPublicly.Expired, ProblemCatalogue.AskTheDesk)
            .WithExample("""{ "quote": 1, "accepted": true, "options": [ { "option": "crystal", "accepted": true } ], "secondFactor": "AB1 2CD" }""")
            .AllowAnonymous();
        page.MapPost("wear-report", TellWearPublicly.Handle)
            .WithName("tellWearPublicly")
            .WithSummary("The customer tells how the watch runs")
            .WithDescription("Without a key, from any origin, as JSON or a plain form; the second factor as for an answer. The same again on the same day is the same report.")
            .WithProblems(ProblemCatalogue.NoSuchPage, ProblemCatalogue.SecondFactorWrong, ProblemCatalogue.TriesUsedUp, ProblemCatalogue.NotHandedOver, ProblemCatalogue.AskTheDesk)
            .WithExample("""{ "amount": 2, "unit": "minutes", "direction": "gains", "overDays": 7, "secondFactor": "0018" }""")
            .AllowAnonymous();
        page.MapPost("claim", ClaimPublicly.Handle)
            .WithName("claimPublicly")
            .WithSummary("The customer reports a fault under warranty; the day it is reported counts")
            .WithDescription("Without a key, from any origin, as JSON or a plain form; the second factor as for an answer. The same words again on the same day are the same claim.")
            .WithProblems(ProblemCatalogue.NoSuchPage, ProblemCatalogue.SecondFactorWrong, ProblemCatalogue.TriesUsedUp, ProblemCatalogue.NotHandedOver, ProblemCatalogue.AskTheDesk)
            .WithExample("""{ "text": "It stops at night.", "secondFactor": "0018" }""")
            .AllowAnonymous();

        routes.MapMethods("/v1/public/{token}/{**form}", [HttpMethods.Options], OtherOrigins.AnswerPreflight).AllowAnonymous().ExcludeFromDescription();
        routes.MapMethods("/v1/public/{token}", [HttpMethods.Options], OtherOrigins.AnswerPreflight).AllowAnonymous().ExcludeFromDescription();
    }
}
