using System.Data.Common;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.House;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Feeds;

/// <summary>The agenda as a calendar that a telephone subscribes to. Whoever has the token reads it, and nothing else.</summary>
public static class ReadFeed
{
    /// <param name="file">The token, and <c>.ics</c>.</param>
    public static async Task<Results<Printed, ProblemHttpResult>> Handle(string file, Reader reader, Writer writer, IClock clock, CancellationToken cancel)
    {
        const string Ending = ".ics";
        if (!file.EndsWith(Ending, StringComparison.Ordinal)
            || await reader.Read(connection => FeedStore.OfToken(connection, file[..^Ending.Length]), cancel) is not { } feed)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "There is no calendar at this address.");
        }

        var now = clock.GetCurrentInstant();
        var due = await reader.Read(connection => Due(connection, feed), cancel);
        var change = FeedChange.Of(await reader.Read(connection => FeedStore.Events(connection, feed.Site, feed.Id), cancel), due, now);
        if (!change.IsNothing)
        {
            change = await writer.Turn(feed.Site, turn => Keep(turn, feed, due), cancel);
        }

        return new Printed(FeedCalendar.Write(NameOf(feed), change.Kept), $"{FeedCalendar.MediaType}; charset=utf-8", "agenda.ics");
    }

    // Compared again where nobody else writes: two calendars that ask at once hear the same numbers.
    private static FeedChange Keep(Turn turn, StoredFeed feed, FeedItem[] due)
    {
        var change = FeedChange.Of(FeedStore.Events(turn, feed.Id), due, turn.Now);
        foreach (var one in change.Changed)
        {
            FeedStore.Put(turn, feed.Id, one);
        }

        foreach (var uid in change.Dropped)
        {
            FeedStore.Drop(turn, feed.Id, uid);
        }

        return change;
    }

    private static FeedItem[] Due(DbConnection connection, StoredFeed feed)
    {
        var everything = feed is { Bench: null, Person: null };
        return
        [
            .. from row in AgendaStore.All(connection, feed.Site)
               where row.Task is not null
               group row by row.Stream into stream
               let job = JobOf(stream.Key)
               where everything || (job is { } asked && Concern.Is(Job.Replay(asked, Reader.Entries(connection, feed.Site, asked)), feed.Bench, feed.Person))
               from row in stream
               select new FeedItem(UidOf(feed.Site, row), Microseconds.Read(row.Task!.Value), job is { } named ? $"{named}: {row.Line}" : row.Line),
        ];
    }

    private static Label? JobOf(string stream) => stream == House.Stream ? null : Label.Read(stream["job/".Length..]);

    // What a row is about, never when: a moved moment is the same thing.
    private static string UidOf(string site, StoredAgendaRow row) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{site}\n{row.Stream}\n{row.Kind}\n{row.Ref}")))[..32] + "@workshop";

    private static string NameOf(StoredFeed feed) => feed switch
    {
        { Person: { } person } => $"Agenda: {person}",
        { Bench: { } bench } => $"Agenda: {bench}",
        _ => "Agenda",
    };
}
