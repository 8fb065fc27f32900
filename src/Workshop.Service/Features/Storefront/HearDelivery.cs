using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Unicode;
using Workshop.Core.Orders;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Storefront;

/// <summary>What became of one event of a delivery.</summary>
/// <param name="Number">Under which it is kept.</param>
/// <param name="Replayed">It was known already; nothing happened again.</param>
/// <param name="Details">What was not followed, in sentences.</param>
public sealed record MessageHeard(long Number, string? Id, string? Type, bool Replayed, ImmutableArray<StorefrontFlag> Flags, ImmutableArray<string> Details);

/// <summary>What became of a delivery: everything in it is kept.</summary>
/// <param name="Flags">Of all its events.</param>
public sealed record DeliveryHeard(ImmutableArray<StorefrontFlag> Flags, ImmutableArray<MessageHeard> Events);

/// <summary>A delivery whose signature was found right.</summary>
/// <param name="Id">The number of the delivery; the same whenever it is sent again.</param>
internal sealed record Delivery(StoredStorefront From, StorefrontDoor Door, string Id, byte[] Bytes)
{
    /// <summary>Runs in the last turn of the delivery.</summary>
    public Action<Turn>? AtLast { get; init; }
}

/// <summary>
/// Takes in a delivery, by whichever door it came: every event is kept with what came of it, once. A delivery of a number that was answered gets
/// the first answer again.
/// </summary>
internal static class HearDelivery
{
    /// <summary>Events of a large batch share the writer with others: so many in one turn.</summary>
    private const int EventsInATurn = 64;

    private const int IdAtMost = 200;

    public static async Task<string> Hear(Writer writer, Delivery delivery, CancellationToken cancel)
    {
        var read = Read(delivery.Bytes);
        var hash = SHA256.HashData(delivery.Bytes);
        var id = delivery.Id.Length <= IdAtMost ? delivery.Id : Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(delivery.Id)));
        var heard = ImmutableArray.CreateBuilder<MessageHeard>();
        var parts = read.Chunk(EventsInATurn).DefaultIfEmpty([]).ToArray();
        foreach (var (i, part) in parts.Index())
        {
            var last = i == parts.Length - 1;
            (string? Again, IReadOnlyList<MessageHeard> Messages) told;
            try
            {
                told = await HearPart(writer, delivery, id, hash, part, first: i == 0, last, heard, keepOnly: false, cancel);
            }
            catch (Exception failure) when (IsOurs(failure))
            {
                // One event that this program cannot follow keeps no other from being followed, and is itself kept.
                told = await OneByOne(writer, delivery, id, hash, part, last, heard, cancel);
            }

            if (told.Again is { } again)
            {
                return again;
            }

            heard.AddRange(told.Messages);
        }

        return Answer(heard);
    }

    private static bool IsOurs(Exception failure) => failure is not (OperationCanceledException or WriterBusyException or StorageUnavailableException);

    private static async Task<(string? Again, IReadOnlyList<MessageHeard> Messages)> OneByOne(
        Writer writer, Delivery delivery, string id, byte[] hash, TellsOne[] part, bool last, IReadOnlyList<MessageHeard> before, CancellationToken cancel)
    {
        var heard = new List<MessageHeard>();
        foreach (var (i, one) in part.Index())
        {
            IReadOnlyList<MessageHeard> known = [.. before, .. heard];
            var ends = last && i == part.Length - 1;
            try
            {
                heard.AddRange((await HearPart(writer, delivery, id, hash, [one], first: false, ends, known, keepOnly: false, cancel)).Messages);
            }
            catch (Exception failure) when (IsOurs(failure))
            {
                heard.AddRange((await HearPart(writer, delivery, id, hash, [one], first: false, ends, known, keepOnly: true, cancel)).Messages);
            }
        }

        return (null, heard);
    }

    /// <param name="first">It may be a delivery that was answered before.</param>
    /// <param name="last">The delivery is answered with it.</param>
    /// <param name="keepOnly">It is kept and flagged, and nothing follows.</param>
    private static Task<(string? Again, IReadOnlyList<MessageHeard> Messages)> HearPart(
        Writer writer, Delivery delivery, string id, byte[] hash, TellsOne[] part, bool first, bool last, IReadOnlyList<MessageHeard> before, bool keepOnly, CancellationToken cancel) =>
        writer.Turn<(string?, IReadOnlyList<MessageHeard>)>(delivery.From.Site, turn =>
        {
            var known = first ? StorefrontStore.FindDelivery(turn, delivery.From.Id, id) : null;
            if (known is not null && known.BodyHash.AsSpan().SequenceEqual(hash))
            {
                delivery.AtLast?.Invoke(turn);
                return (known.Answer, []);
            }

            var told = HearPart(turn, delivery, part, known is not null, keepOnly);
            if (last)
            {
                StorefrontStore.KeepDelivery(turn, delivery.From.Id, id, hash, Answer([.. before, .. told]));
                delivery.AtLast?.Invoke(turn);
            }

            return (null, told);
        }, cancel);

    private static List<MessageHeard> HearPart(Turn turn, Delivery delivery, TellsOne[] part, bool numberReused, bool keepOnly)
    {
        var told = new List<MessageHeard>();
        var agendaChanged = false;
        foreach (var one in part)
        {
            var (message, followed) = HearOne(turn, delivery, one, numberReused, keepOnly);
            told.Add(message);
            agendaChanged |= followed.AgendaChanged;
        }

        if (agendaChanged)
        {
            HouseAgenda.Refresh(turn);
        }

        return told;
    }

    private static string Answer(IReadOnlyList<MessageHeard> heard) =>
        JsonSerializer.Serialize(new DeliveryHeard([.. heard.SelectMany(one => one.Flags).Distinct()], [.. heard]), WorkshopJson.Options);

    private static (MessageHeard Message, Followed Followed) HearOne(Turn turn, Delivery delivery, TellsOne one, bool numberReused, bool keepOnly)
    {
        var before = MessageStore.OfIdentity(turn, delivery.From.Id, one.Source, one.Id);
        if (before.FirstOrDefault(known => known.Digest.AsSpan().SequenceEqual(one.Digest)) is { } same)
        {
            return (new MessageHeard(same.Number, one.Id, same.Type, true, same.ReadFlags(), same.ReadDetails()), new Followed());
        }

        var followed =
            one.Event is null ? new Followed().Flagged(StorefrontFlag.Unreadable, one.Faults)
            : one.Event.Source != delivery.From.Source ? new Followed().Flagged(StorefrontFlag.SourceNotYours, $"It was signed for '{delivery.From.Source}'.")
            : keepOnly ? new Followed().Flagged(StorefrontFlag.Refused, "Something unexpected happened here when it was followed; the service's log says what.")
            : FollowTold.Follow(turn, delivery.From, one.Event);
        if (before.Count > 0)
        {
            followed = followed.Flagged(StorefrontFlag.EventConflict, $"Its identity is that of message {before[0].Number}, which says something else.");
        }

        if (numberReused)
        {
            followed = followed.Flagged(StorefrontFlag.DeliveryConflict, "Another body was delivered under the same webhook-id.");
        }

        var number = MessageStore.Add(turn, delivery.From.Id, delivery.Door, one.Source, one.Id, one.Digest, one.Event?.Type ?? "", one.Text, followed);
        return (new MessageHeard(number, one.Id, one.Event?.Type, false, followed.Flags, followed.Details), followed);
    }

    /// <summary>The events of a body; a body that cannot be read is one thing to keep.</summary>
    private static ImmutableArray<TellsOne> Read(byte[] bytes)
    {
        var digest = SHA256.HashData(bytes);
        TellsOne Whole(string text, string fault) => new(null, "", Convert.ToHexStringLower(digest), digest, text, [fault]);
        if (!Utf8.IsValid(bytes))
        {
            return [Whole(Convert.ToBase64String(bytes), "The body is no UTF-8; it is kept in Base64.")];
        }

        var isBatch = bytes.AsSpan().TrimStart(" \t\r\n"u8) is [(byte)'[', ..];
        if (isBatch && bytes.AsSpan().Trim(" \t\r\n"u8) is var trimmed && trimmed[1..].TrimStart(" \t\r\n"u8) is [(byte)']'])
        {
            return [];
        }

        var (events, refusal) = CloudEventReader.Read(bytes, isBatch);
        if (refusal is { ProblemDetails.Detail: var detail })
        {
            return [Whole(Encoding.UTF8.GetString(bytes), detail ?? "The body cannot be read.")];
        }

        using var document = JsonDocument.Parse(bytes);
        var texts = isBatch ? document.RootElement.EnumerateArray().Select(one => one.GetRawText()) : [document.RootElement.GetRawText()];
        return [.. events.Zip(texts, TellsOne.Of)];
    }

    /// <summary>One event as it was told, or what of it could be read.</summary>
    private sealed record TellsOne(CloudEvent? Event, string Source, string Id, byte[] Digest, string Text, string[] Faults)
    {
        /// <param name="text">Word for word: of what is no event at all nothing else is left.</param>
        public static TellsOne Of(CloudEventRead read, string text)
        {
            if (read.Event is { } told && told.Id.Concat(told.Source).Concat(told.Type).All(letter => !char.IsControl(letter)))
            {
                return new TellsOne(told, told.Source, told.Id, [.. told.Digest], told.Text, []);
            }

            var digest = SHA256.HashData(Encoding.UTF8.GetBytes(text));
            return new TellsOne(null, "", Convert.ToHexStringLower(digest), digest, text, [.. read.Faults.Select(fault => $"{fault.Pointer}: {fault.Detail}").DefaultIfEmpty("Its attributes hold control characters.")]);
        }
    }
}
