using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Customers;

/// <summary>One customer; the ETag is what a change of it needs.</summary>
public static class ReadCustomer
{
    public static async Task<Results<Seen<CustomerView>, ProblemHttpResult>> Handle(string id, Caller caller, Reader reader, CancellationToken cancel) =>
        await reader.Read(connection => CustomerStore.Find(connection, caller.Site, id), cancel) is { } stored
            ? Answer.Seen(stored.Version, CustomerView.Of(stored))
            : NoCustomer();

    internal static ProblemHttpResult NoCustomer() => Problems.Of(ProblemCatalogue.NoSuchThing, "There is no customer with this id.");
}
