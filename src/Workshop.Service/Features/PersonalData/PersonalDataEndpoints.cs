using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.PersonalData;

public static class PersonalDataEndpoints
{
    public static void MapPersonalData(this IEndpointRouteBuilder routes)
    {
        var customer = routes.MapGroup("/v1/customers/{id}").WithTags("Customers");
        customer.MapGet("export", ExportCustomer.Handle)
            .WithName("exportCustomer")
            .WithSummary("Everything that is kept of one customer, as one document to be handed to them")
            .WithExample(answer: """{ "at": "2026-03-20T09:00:00Z", "customer": { "id": "0198c0de0000700080000000000000a1", "name": "Ida Marlow", "since": "2026-03-02T08:00:00Z", "version": 1 }, "jobs": [ { "job": "J7K3MQ4T", "watch": { "maker": "Orrery & Finch" }, "intake": {}, "entries": [ { "type": "quote.answered", "at": "2026-03-05T10:00:00Z", "data": { "version": 1, "accepted": true } } ] } ] }""")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ExportCustomers);
        customer.MapPost("erasure", EraseCustomer.Handle)
            .WithName("eraseCustomer")
            .WithSummary("Forget who a customer is: name, ways to reach them, and free text; what was done to their watches stays")
            .WithDescription("Refused while a watch of theirs is here, money is open, a claim or dispute is not closed, or a legal hold stands. Cannot be taken back. What the law asks a shop to keep is the shop's to know.")
            .WithProblems(ProblemCatalogue.NoSuchThing, ProblemCatalogue.StillNeeded)
            .WithExample(answer: """{ "customer": "0198c0de0000700080000000000000a1", "erasedAt": "2026-03-20T09:00:00Z", "jobs": [ "J7K3MQ4T" ], "entries": 3, "words": "Name, ways to reach them and free text are gone. …" }""")
            .RequireOperation(Operation.EraseCustomers);
    }
}
