using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Watches;

/// <summary>All watches the house has known, page by page.</summary>
public static class ListWatches
{
    /// <summary>Behind every id.</summary>
    private const string AfterAll = "\uffff";

    public static async Task<Paged<WatchLine>> Handle(Page page, Caller caller, Reader reader, CancellationToken cancel)
    {
        var before = page.After is [var last] ? last : AfterAll;
        var rows = await reader.Read(connection => WatchStore.List(connection, caller.Site, before, page.Limit + 1), cancel);
        return page.Of([.. rows.Select(row => new WatchLine(WatchView.Of(row), row.CustomerId))], one => [one.Watch.Id]);
    }
}
