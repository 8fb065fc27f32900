using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>An event as it came through the bench door.</summary>
public sealed record Received
{
    public required string Source { get; init; }

    public required string Id { get; init; }

    public long? Sequence { get; init; }

    /// <summary>The device's own time, as it wrote it.</summary>
    public string? DeviceTime { get; init; }

    public required Instant ReceivedAt { get; init; }

    public required ReceivedState State { get; init; }

    /// <summary>For one that waits: until when, in real time.</summary>
    public Instant? ReleaseAt { get; init; }

    /// <summary>Where it stands in the journal.</summary>
    public long? Position { get; init; }

    /// <summary>The event word for word, where it did not become an entry.</summary>
    public string? Text { get; init; }

    /// <summary>What the device was told.</summary>
    public JsonElement? Answer { get; init; }
}

/// <summary>Everything that came through the door and whose envelope said who speaks: waiting, taken in or refused.</summary>
public static class ReadReceived
{
    /// <param name="state">held, accepted or refused; refused where left out.</param>
    public static async Task<Results<Paged<Received>, ProblemHttpResult>> Handle(
        Page page, Caller caller, ReceivedStore store, CancellationToken cancel, string state = "refused")
    {
        if (Word.Read<ReceivedState>(state) is not { } wanted)
        {
            return Problems.BadParameter("state", $"This is none of {string.Join(", ", Word.All<ReceivedState>())}.");
        }

        return wanted == ReceivedState.Accepted ? await Accepted(page, caller, store, cancel) : await ToLookAt(page, caller, store, wanted, cancel);
    }

    private static async Task<Results<Paged<Received>, ProblemHttpResult>> Accepted(Page page, Caller caller, ReceivedStore store, CancellationToken cancel)
    {
        long after = 0;
        if (page.After is not [] && !(page.After is [var cursor] && long.TryParse(cursor, NumberStyles.None, CultureInfo.InvariantCulture, out after)))
        {
            return OfAnotherList();
        }

        var rows = await store.Accepted(caller.Site, after, page.Limit + 1, cancel);
        return page.Of<Received>([.. rows.Select(Shown)], one => [one.Position!.Value.ToString(CultureInfo.InvariantCulture)]);
    }

    private static async Task<Results<Paged<Received>, ProblemHttpResult>> ToLookAt(
        Page page, Caller caller, ReceivedStore store, ReceivedState wanted, CancellationToken cancel)
    {
        var (received, source, id) = (long.MinValue, "", "");
        if (page.After is not [])
        {
            if (page.After is not [var moment, var from, var of] || !long.TryParse(moment, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out received))
            {
                return OfAnotherList();
            }

            (source, id) = (from, of);
        }

        var rows = await store.ToLookAt(caller.Site, wanted, (received, source, id), page.Limit + 1, cancel);
        return page.Of<Received>(
            [.. rows.Select(Shown)], one => [Microseconds.Of(one.ReceivedAt).ToString(CultureInfo.InvariantCulture), one.Source, one.Id]);
    }

    private static ProblemHttpResult OfAnotherList() => Problems.BadParameter("cursor", "This is no cursor of this list; take it from the Link of the page before");

    private static Received Shown(StoredReceived row) => new()
    {
        Source = row.Source,
        Id = row.Id,
        Sequence = row.Sequence,
        DeviceTime = row.DeviceTime,
        ReceivedAt = Microseconds.Read(row.Received),
        State = Word.Read<ReceivedState>(row.State)!.Value,
        ReleaseAt = Microseconds.Read(row.ReleaseAt),
        Position = row.Position,
        Text = row.Body,
        Answer = row.Answer is { } answer ? JsonElement.Parse(answer) : null,
    };
}
