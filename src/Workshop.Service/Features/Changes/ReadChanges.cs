using System.Collections.Immutable;
using System.Globalization;
using System.Reflection;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
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
    long Position, string Stream, long Version, string Source, string Id, string Type, Instant Effective, Instant Received, Disposition Disposition, ImmutableArray<string> Flags)
{
    internal static Change Of(StoredChange row) => new(
        row.Position, row.Stream, row.StreamVersion, row.Source, row.Id, row.Type,
        Microseconds.Read(row.Effective), Microseconds.Read(row.Received), Word.Read<Disposition>(row.Disposition)!.Value, FlagList.Read(row.Flags));
}

/// <summary>
/// What was written down since: whoever remembers the last position they have seen misses nothing. A storefront reads what is told
/// outside of its own orders and of the shop, by the positions of messages: the very events that endpoints are sent.
/// </summary>
public static class ReadChanges
{
    /// <param name="after">The last position seen; 0 for the beginning. For a storefront it is the last <c>sequence</c>.</param>
    public static async Task<Results<ChangesRead, ProblemHttpResult>> Handle(Page page, Caller caller, ChangesStore store, long? after, CancellationToken cancel)
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

        if (caller.Role == Role.Storefront)
        {
            var messages = await store.MessagesAfter(caller.Site, caller.Source, from, page.Limit + 1, cancel);
            return new ChangesRead(page.Mapped(messages, message => Parsed(Outbox.Event(caller.Site, message)), message => [message.Position.ToString(CultureInfo.InvariantCulture)]));
        }

        var rows = await store.After(caller.Site, from, page.Limit + 1, cancel);
        return new ChangesRead(page.Mapped(rows, Change.Of, row => [row.Position.ToString(CultureInfo.InvariantCulture)]));
    }

    private static JsonElement Parsed(byte[] json)
    {
        using var document = JsonDocument.Parse(json);
        return document.RootElement.Clone();
    }
}

/// <summary>A page of changes, or, for a storefront, of the events that are told outside.</summary>
public sealed class ChangesRead(IResult page) : IResult, IEndpointMetadataProvider
{
    public Task ExecuteAsync(HttpContext context) => page.ExecuteAsync(context);

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder) => Paged<Change>.PopulateMetadata(method, builder);
}
