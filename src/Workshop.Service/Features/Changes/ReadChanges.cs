using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Changes;

/// <summary>Something that was written down. What it says stands in the history of its job.</summary>
/// <param name="Position">1, 2, 3 … within the site, without gaps, in order of commit.</param>
/// <param name="Version">The version of its stream with this entry.</param>
public sealed record Change(
    long Position, string Stream, long Version, string Source, string Id, string Type, Instant Effective, Instant Received, Disposition Disposition, ImmutableArray<string> Flags);

/// <summary>What was written down since: whoever remembers the last position they have seen misses nothing.</summary>
public static class ReadChanges
{
    /// <param name="after">The last position seen; 0 for the beginning.</param>
    public static async Task<Results<Paged<Change>, ProblemHttpResult>> Handle(Page page, Caller caller, ChangesStore store, long? after, CancellationToken cancel)
    {
        var from = after ?? 0;
        if (from < 0)
        {
            return Problems.BadParameter("after", "This is no position.");
        }

        if (page.After is not [])
        {
            if (page.After is not [var cursor] || !long.TryParse(cursor, NumberStyles.None, CultureInfo.InvariantCulture, out var seen))
            {
                return Problems.BadParameter("cursor", "This is no cursor of this list; take it from the Link of the page before");
            }

            from = Math.Max(from, seen);
        }

        var rows = await store.After(caller.Site, from, page.Limit + 1, cancel);
        return page.Of<Change>([.. rows.Select(Shown)], change => [change.Position.ToString(CultureInfo.InvariantCulture)]);
    }

    private static Change Shown(StoredChange row) => new(
        row.Position, row.Stream, row.StreamVersion, row.Source, row.Id, row.Type,
        Microseconds.Read(row.Effective), Microseconds.Read(row.Received), Word.Read<Disposition>(row.Disposition)!.Value, FlagList.Read(row.Flags));
}
