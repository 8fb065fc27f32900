using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Customers;

public static class CustomersEndpoints
{
    public static void MapCustomers(this IEndpointRouteBuilder routes)
    {
        var customers = routes.MapGroup("/v1/customers").WithTags("Customers");
        customers.MapPost("", AddCustomer.Handle)
            .WithSummary("Write down a customer before there is a watch")
            .WithExample("""{ "name": "Ida Marlow", "telephone": "+44 20 7946 0018", "consents": [ { "kind": "messages", "channels": ["email", "telephone"] } ] }""")
            .RequireOperation(Operation.EditCustomers);
        customers.MapGet("", ListCustomers.Handle)
            .WithSummary("The customers of the house, newest first; by a name they are found through the search for jobs")
            .RequireOperation(Operation.ReadCustomers);
        customers.MapGet("{id}", ReadCustomer.Handle)
            .WithSummary("Who a customer is and how to reach them")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.ReadCustomers);
        customers.MapPut("{id}", EditCustomer.Handle)
            .WithSummary("Say anew who a customer is; what is left out is gone")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample("""{ "name": "Ida Marlow", "telephone": "+44 20 7946 0018", "language": "en" }""")
            .RequireOperation(Operation.EditCustomers);
    }
}
