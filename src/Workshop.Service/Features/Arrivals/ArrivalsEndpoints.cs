using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Prints;

namespace Workshop.Service.Features.Arrivals;

public static class ArrivalsEndpoints
{
    private const string Expected =
        """
        { "label": "E7K3MQ4A", "state": "expected", "storefront": "shop", "order": "2041", "line": "1", "piece": 1, "customer": "0195…",
          "ordered": { "product": "service-automatic", "options": [], "amountMinor": 48000, "currency": "GBP", "polish": "no" }, "words": "stops at night",
          "waitsFrom": "2026-03-02T09:14:03Z", "slip": "/v1/arrivals/E7K3MQ4A/slip.pdf", "version": 1 }
        """;

    public static void MapArrivals(this IEndpointRouteBuilder routes)
    {
        var arrivals = routes.MapGroup("/v1/arrivals").WithTags("Arrivals");
        arrivals.MapGet("", ReadArrivals.All)
            .WithName("listArrivals")
            .WithSummary("Watches that are expected, by label; with state=all also those that came or ended")
            .WithProblems(ProblemCatalogue.BadFields)
            .WithExample(answer: $$"""{ "items": [ {{Expected}} ] }""")
            .RequireOperation(Operation.ReadArrivals);
        arrivals.MapPost("", ExpectWatch.Handle)
            .WithName("expectWatch")
            .WithSummary("Expect a watch that somebody told of by telephone")
            .WithExample("""{ "customer": { "name": "Ida Marlow", "telephone": "+44 20 7946 0018" }, "words": "her father's watch, stops at night", "variant": "full-automatic" }""", Expected)
            .RequireOperation(Operation.EditArrivals);
        arrivals.MapGet("{label}", ReadArrivals.One)
            .WithName("readArrival")
            .WithSummary("An expected watch, and what became of it")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .WithExample(answer: Expected)
            .RequireOperation(Operation.ReadArrivals);
        arrivals.MapPost("{label}/end", EndArrival.Handle)
            .WithName("endArrival")
            .WithSummary("Wait for a watch no longer: it never came, was sent back, or is the watch of another order")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing, ProblemCatalogue.NotExpected)
            .WithExample("""{ "reason": "never-came", "note": "the customer keeps it for now" }""", Expected.Replace("\"expected\"", "\"ended\", \"reason\": \"never-came\", \"note\": \"the customer keeps it for now\"", StringComparison.Ordinal))
            .RequireOperation(Operation.EditArrivals);
        arrivals.MapGet("{label}/slip.pdf", ParcelSlip.Handle)
            .WithName("printSlip")
            .WithSummary("A sheet for the customer: how to pack, the slip inside, a neutral address outside")
            .WithProblems(ProblemCatalogue.LabelUnreadable, ProblemCatalogue.NoSuchThing)
            .Produces(StatusCodes.Status200OK, contentType: Print.PdfType)
            .RequireOperation(Operation.PrintSlips);
    }
}
