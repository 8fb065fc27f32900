using System.Data.Common;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Stock;

namespace Workshop.Service.Features.Parts;

/// <summary>Orders of parts: what was ordered, on which days it was to come, and what has come.</summary>
public static class ReadPartOrders
{
    public static async Task<Results<Paged<PartOrderView>, ProblemHttpResult>> All(Page page, Caller caller, Reader reader, CancellationToken cancel)
    {
        if (page.After.Length > 1)
        {
            return Problems.BadParameter("cursor", "This is no cursor of this list; take it from the Link of the page before");
        }

        var after = page.After is [var last] ? last : "";
        return page.Of<PartOrderView>(
            await reader.Read(
                connection => StockTable.Page(connection, caller.Site, StockTable.Order, after, page.Limit + 1).Select(one => Show(connection, caller.Site, one.Id)!).ToArray(),
                cancel),
            one => [one.Id]);
    }

    public static async Task<Results<Seen<PartOrderView>, ProblemHttpResult>> One(string id, Caller caller, Reader reader, CancellationToken cancel) =>
        await Find(reader, caller.Site, id, cancel) is { } view ? Answer.Seen(view.Version, view) : Problems.Of(ProblemCatalogue.NoSuchThing, "There is no such order of parts.");

    internal static Task<PartOrderView?> Find(Reader reader, string site, string id, CancellationToken cancel) => reader.Read(connection => Show(connection, site, id), cancel);

    private static PartOrderView? Show(DbConnection connection, string site, string id)
    {
        if (StockTable.Versions(connection, site, StockTable.Order, id) is not [_, ..] versions)
        {
            return null;
        }

        var jobs = versions[^1].Read<PartOrderDocument>().Lines.Select(line => line.Job).OfType<string>().Distinct()
            .ToDictionary(job => job, job => Label.Read(job) is var label ? Job.Replay(label, Reader.Entries(connection, site, label)) : null!, StringComparer.Ordinal);
        return PartOrderView.Of(versions, jobs);
    }
}
