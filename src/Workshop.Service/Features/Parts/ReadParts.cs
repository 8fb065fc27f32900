using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Stock;

namespace Workshop.Service.Features.Parts;

/// <summary>The shop's parts, each with how many there are and for whom.</summary>
public static class ReadParts
{
    public static async Task<Results<Paged<PartView>, ProblemHttpResult>> All(Page page, Caller caller, Reader reader, CancellationToken cancel)
    {
        if (page.After.Length > 1)
        {
            return Problems.BadParameter("cursor", "This is no cursor of this list; take it from the Link of the page before");
        }

        var after = page.After is [var last] ? last : "";
        return page.Of<PartView>(
            await reader.Read(
                connection => StockTable.Page(connection, caller.Site, StockTable.Part, after, page.Limit + 1).Select(one => PartView.Of(one, StockTable.StockOf(connection, caller.Site, one))).ToArray(),
                cancel),
            one => [one.Id]);
    }

    public static async Task<Results<Seen<PartView>, ProblemHttpResult>> One(string id, Caller caller, Reader reader, CancellationToken cancel)
    {
        var view = await reader.Read(
            connection => StockTable.Newest(connection, caller.Site, StockTable.Part, id) is { } stored ? PartView.Of(stored, StockTable.StockOf(connection, caller.Site, stored)) : null,
            cancel);
        return view is not null ? Answer.Seen(view.Version, view) : Problems.Of(ProblemCatalogue.NoSuchThing, "The shop has written down no such part.");
    }
}
