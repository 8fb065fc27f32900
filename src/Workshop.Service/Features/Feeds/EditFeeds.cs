using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Feeds;

/// <summary>Of what a calendar is wanted: a bench, a person, or the whole house where neither is named.</summary>
public sealed record FeedBody
{
    [StringLength(60)]
    public string? Bench { get; init; }

    [StringLength(60)]
    public string? Person { get; init; }
}

/// <param name="Address">Shown this once; whoever has it reads the calendar.</param>
public sealed record FeedView(string Id, string? Bench, string? Person, Instant CreatedAt, string? Address);

public sealed record FeedsView(ImmutableArray<FeedView> Items);

/// <summary>Calendars that telephones and desks subscribe to.</summary>
public static class EditFeeds
{
    public static async Task<Results<Made<FeedView>, ProblemHttpResult>> Add(JsonBody<FeedBody> body, Caller caller, HttpResponse response, Writer writer, CancellationToken cancel)
    {
        response.Headers.CacheControl = "no-store";
        return await writer.Turn<Results<Made<FeedView>, ProblemHttpResult>>(caller.Site, turn => Add(turn, body.Value), cancel);
    }

    public static async Task<Done<FeedsView>> All(Caller caller, Reader reader, CancellationToken cancel) =>
        Answer.Done(new FeedsView([.. (await reader.Read(connection => FeedStore.List(connection, caller.Site), cancel)).Select(feed => Shown(feed, null))]));

    public static async Task<Results<NoContent, ProblemHttpResult>> Revoke(string id, Caller caller, Writer writer, CancellationToken cancel) =>
        await writer.Turn(caller.Site, turn => FeedStore.Revoke(turn, id), cancel)
            ? TypedResults.NoContent()
            : Problems.Of(ProblemCatalogue.NoSuchThing, "There is no such calendar.");

    private static Results<Made<FeedView>, ProblemHttpResult> Add(Turn turn, FeedBody body)
    {
        if (Faults(turn, body).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var (feed, token) = FeedStore.Add(turn, body.Bench, body.Person is { } named ? turn.Rules.PersonBehind(named)!.Id : null);
        return Answer.Made($"/v1/agenda/feeds/{feed.Id}", 1, Shown(feed, $"/v1/agenda/{token}.ics"));
    }

    private static IEnumerable<Fault> Faults(Turn turn, FeedBody body)
    {
        if (body is { Bench: not null, Person: not null })
        {
            yield return new Fault("/person", "A calendar is of a bench or of a person");
        }
        else if (body.Bench is { } bench && !turn.Rules.Benches.Contains(bench))
        {
            yield return new Fault("/bench", $"There is no bench '{bench}'");
        }
        else if (body.Person is { } person && turn.Rules.PersonBehind(person) is null)
        {
            yield return new Fault("/person", $"Nobody is known by '{person}'");
        }
    }

    private static FeedView Shown(StoredFeed feed, string? address) => new(feed.Id, feed.Bench, feed.Person, Microseconds.Read(feed.Created), address);
}
