using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Customers;

/// <summary>All customers, page by page. There is no filter: a name in an address would end up in logs of others.</summary>
public static class ListCustomers
{
    /// <summary>Behind every id.</summary>
    private const string AfterAll = "\uffff";

    public static async Task<Paged<CustomerView>> Handle(Page page, Caller caller, Reader reader, CancellationToken cancel)
    {
        var before = page.After is [var last] ? last : AfterAll;
        var rows = await reader.Read(connection => CustomerStore.List(connection, caller.Site, before, page.Limit + 1), cancel);
        return page.Of([.. rows.Select(CustomerView.Of)], one => [one.Id]);
    }
}
