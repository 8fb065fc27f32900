using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Quotes;

public static class QuotesEndpoints
{
    public static void MapQuotes(this IEndpointRouteBuilder routes)
    {
        var quotes = routes.MapGroup("/v1/jobs/{label}/quotes").WithTags("Quotes");
        quotes.MapPost("", SendQuote.Handle)
            .WithSummary("Send the customer a version of the quote")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithProblems([.. GateProblems.All.Where(kind => kind.Code is "needs" or "handed-over")])
            .WithExample("""{ "lines": [ { "text": "Full service", "amountMinor": 48000, "taxMinor": 8000 } ], "currency": "GBP" }""")
            .RequireOperation(Operation.SendQuote);
        quotes.MapGet("", ReadQuotes.All)
            .WithName("readQuotes")
            .WithSummary("Every version of the quote")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadQuotes);
        quotes.MapGet("{version}", ReadQuotes.One)
            .WithName("readQuote")
            .WithSummary("One version of the quote")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadQuotes);
        quotes.MapPost("{version}/answer", AnswerQuote.Handle)
            .WithSummary("Take the customer's answer; the date promised follows from it")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.QuoteAnswered)
            .WithProblems([.. GateProblems.All.Where(kind => kind.Code is "quote-superseded" or "decider-gone" or "quote-expired" or "handed-over")])
            .WithExample("""{ "accepted": true, "channel": "telephone", "witness": "mara" }""")
            .RequireOperation(Operation.AnswerQuote);
        quotes.MapPost("{version}/price-change", ChangePrice.Handle)
            .WithSummary("Say that an agreed line has become dearer: the shop bears it, or a new version is asked for")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.QuoteNotAgreed)
            .WithProblems([.. GateProblems.All.Where(kind => kind.Code is "handed-over")])
            .WithExample("""{ "line": "mainspring", "newAmountMinor": 4600, "reason": "The maker raised the price in March." }""")
            .RequireOperation(Operation.ChangeQuotePrice);
    }
}
