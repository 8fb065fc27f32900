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
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ExportCustomers);
        customer.MapPost("erasure", EraseCustomer.Handle)
            .WithName("eraseCustomer")
            .WithSummary("Forget who a customer is: name, ways to reach them, and free text; what was done to their watches stays")
            .WithDescription("Refused while a watch of theirs is here, money is open, a claim or dispute is not closed, or a legal hold stands. Cannot be taken back. What the law asks a shop to keep is the shop's to know.")
            .WithProblems(ProblemCatalogue.NoSuchThing, ProblemCatalogue.StillNeeded)
            .RequireOperation(Operation.EraseCustomers);
    }
}
