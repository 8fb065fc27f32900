using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Orders;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Storefront;

/// <summary>A message of a storefront as it was heard.</summary>
public sealed record MessageView
{
    public required long Number { get; init; }

    /// <summary>The storefront's id.</summary>
    public required string Storefront { get; init; }

    public required StorefrontDoor Door { get; init; }

    /// <summary>Absent for one that could not be read.</summary>
    public string? Type { get; init; }

    /// <summary>The sender's own id of the event.</summary>
    public string? Id { get; init; }

    public string? Order { get; init; }

    /// <summary>The storefront's own name of the customer.</summary>
    public string? Customer { get; init; }

    public string? Job { get; init; }

    /// <summary>What somebody has to look at.</summary>
    public required ImmutableArray<StorefrontFlag> Flags { get; init; }

    public required ImmutableArray<string> Details { get; init; }

    public required Instant ReceivedAt { get; init; }

    /// <summary>When somebody looked at it.</summary>
    public Instant? SeenAt { get; init; }

    public string? SeenBy { get; init; }

    public string? Note { get; init; }

    /// <summary>As it was sent; with one message alone, and absent once it was erased.</summary>
    public string? Text { get; init; }

    public static MessageView Of(StoredMessage stored, bool withText = false) => new()
    {
        Number = stored.Number,
        Storefront = stored.Storefront,
        Door = Word.Read<StorefrontDoor>(stored.Door)!.Value,
        Type = stored.Type.Length == 0 ? null : stored.Type,
        Id = stored.Type.Length == 0 ? null : stored.Id,
        Order = stored.OrderRef,
        Customer = stored.CustomerRef,
        Job = stored.Job,
        Flags = stored.ReadFlags(),
        Details = stored.ReadDetails(),
        ReceivedAt = Microseconds.Read(stored.Received),
        SeenAt = Microseconds.Read(stored.Seen),
        SeenBy = stored.SeenBy,
        Note = stored.Note,
        Text = withText ? stored.Body : null,
    };
}

public sealed record SeenBody
{
    /// <summary>The badge of whoever looked at it.</summary>
    [StringLength(60)]
    public string? Person { get; init; }

    /// <summary>What came of it.</summary>
    [StringLength(2_000)]
    public string? Note { get; init; }
}

/// <summary>What storefronts have told, and the desk's list of what could not simply be followed.</summary>
public static class ReadMessages
{
    /// <param name="flagged">Those alone that nobody has looked at yet.</param>
    public static async Task<Results<Paged<MessageView>, ProblemHttpResult>> All(Page page, Caller caller, Reader reader, CancellationToken cancel, bool flagged = false)
    {
        var before = long.MaxValue;
        if (page.After is not [] && !(page.After is [var cursor] && long.TryParse(cursor, NumberStyles.None, CultureInfo.InvariantCulture, out before)))
        {
            return Problems.BadParameter("cursor", "This is no cursor of this list; take it from the Link of the page before");
        }

        var rows = await reader.Read(connection => MessageStore.List(connection, caller.Site, flagged, before, page.Limit + 1), cancel);
        return page.Of<MessageView>([.. rows.Select(row => MessageView.Of(row))], one => [one.Number.ToString(CultureInfo.InvariantCulture)]);
    }

    public static async Task<Results<Ok<MessageView>, ProblemHttpResult>> One(long number, Caller caller, Reader reader, CancellationToken cancel) =>
        await reader.Read(connection => MessageStore.Find(connection, caller.Site, number), cancel) is { } found
            ? TypedResults.Ok(MessageView.Of(found, withText: true))
            : NoMessage();

    public static async Task<Once<Results<Done<MessageView>, ProblemHttpResult>>> See(long number, JsonBody<SeenBody> body, Once once, Writer writer) =>
        await once.Do(writer, body.Bytes, turn => See(turn, number, body.Value));

    private static Results<Done<MessageView>, ProblemHttpResult> See(Turn turn, long number, SeenBody body)
    {
        if (MessageStore.Find(turn, number) is not { } found)
        {
            return NoMessage();
        }

        MessageStore.See(turn, number, turn.Rules.PersonBehind(body.Person)?.Id ?? body.Person, body.Note ?? found.Note);
        HouseAgenda.Refresh(turn);
        return Answer.Done(MessageView.Of(MessageStore.Find(turn, number)!));
    }

    private static ProblemHttpResult NoMessage() => Problems.Of(ProblemCatalogue.NoSuchThing, "There is no message of this number.");
}
