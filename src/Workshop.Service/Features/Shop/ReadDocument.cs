using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using NodaTime.Text;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Shop;

/// <summary>Reads the shop's documents: as they are, as they were on a day, and every version there was.</summary>
public static class ReadDocument
{
    public static async Task<Results<Paged<ListedDocument<T>>, ProblemHttpResult>> All<T>(Page page, Caller caller, Reader reader, CancellationToken cancel)
        where T : class, IShopDocument
    {
        if (page.After.Length > 1)
        {
            return Problems.BadParameter("cursor", "This is no cursor of this list; take it from the Link of the page before");
        }

        var kind = ShopKinds.Of<T>();
        var read = await reader.Read(connection => ShopDocuments.Page(connection, caller.Site, kind.Name, page.After is [var after] ? after : "", page.Limit + 1), cancel);
        return page.Of<ListedDocument<T>>([.. read.Select(ListedDocument<T>.Of)], one => [one.Id]);
    }

    /// <param name="on">A day: the document as it was in force at its end. Now where left out.</param>
    public static async Task<Results<Seen<T>, ProblemHttpResult>> One<T>(string id, string? on, Caller caller, Reader reader, ShopRulesSource rules, CancellationToken cancel)
        where T : class, IShopDocument
    {
        var before = long.MaxValue;
        if (on is not null)
        {
            if (LocalDatePattern.Iso.Parse(on) is not { Success: true, Value: var day } || day == LocalDate.MaxIsoValue)
            {
                return Problems.BadParameter("on", "This is no day such as 2026-03-02");
            }

            before = Microseconds.Of((await rules.Read(caller.Site, cancel)).Calendar.EndOfDay(day));
        }

        return Shown<T>(await reader.Read(connection => ShopDocuments.InForce(connection, caller.Site, ShopKinds.Of<T>().Name, id, before), cancel));
    }

    public static async Task<Results<Paged<DocumentVersion>, ProblemHttpResult>> Versions<T>(string id, Page page, Caller caller, Reader reader, CancellationToken cancel)
        where T : class, IShopDocument
    {
        var before = long.MaxValue;
        if (page.After is not [] && (page.After is not [var seen] || !long.TryParse(seen, NumberStyles.None, CultureInfo.InvariantCulture, out before)))
        {
            return Problems.BadParameter("cursor", "This is no cursor of this list; take it from the Link of the page before");
        }

        var kind = ShopKinds.Of<T>();
        var read = await reader.Read(connection => ShopDocuments.SavedVersions(connection, caller.Site, kind.Name, id, before, page.Limit + 1), cancel);
        return read.Count == 0 && page.After is []
            ? NoDocument()
            : page.Of<DocumentVersion>(
                [.. read.Select(one => new DocumentVersion(one.Version, Microseconds.Read(one.Saved), one.Source, one.Person, one.RulesVersion))],
                one => [one.Version.ToString(CultureInfo.InvariantCulture)]);
    }

    public static async Task<Results<Seen<T>, ProblemHttpResult>> Version<T>(string id, long version, Caller caller, Reader reader, CancellationToken cancel)
        where T : class, IShopDocument =>
        Shown<T>(await reader.Read(connection => ShopDocuments.AtVersion(connection, caller.Site, ShopKinds.Of<T>().Name, id, version), cancel));

    private static Results<Seen<T>, ProblemHttpResult> Shown<T>(ShopDocument? stored) where T : class, IShopDocument =>
        stored is not null ? Answer.Seen(stored.Version, ListedDocument<T>.Read(stored)) : NoDocument();

    private static ProblemHttpResult NoDocument() => Problems.Of(ProblemCatalogue.NoSuchThing, "The shop has no such document, or had none then.");
}
