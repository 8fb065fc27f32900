using System.Data.Common;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Webhooks;

/// <summary>Where messages go.</summary>
public static class ReadEndpoints
{
    public static async Task<Paged<EndpointView>> All(Page page, Caller caller, Reader reader, CancellationToken cancel)
    {
        var after = page.After is [var last] ? last : "";
        IReadOnlyList<EndpointView> endpoints = await reader.Read<IReadOnlyList<EndpointView>>(
            connection => [.. WebhookStore.List(connection, caller.Site, after, page.Limit + 1).Select(one => EndpointView.Of(connection, caller.Site, one))], cancel);
        return page.Of(endpoints, one => [one.Id]);
    }

    public static async Task<Results<Seen<EndpointView>, ProblemHttpResult>> One(string id, Caller caller, Reader reader, CancellationToken cancel) =>
        await reader.Read(connection => Find(connection, caller.Site, id), cancel) is { } found ? Answer.Seen(found.Version, found) : EndpointView.NoEndpoint();

    private static EndpointView? Find(DbConnection connection, string site, string id) =>
        WebhookStore.Find(connection, site, id) is { } stored ? EndpointView.Of(connection, site, stored) : null;
}

/// <summary>One attempt to deliver a message.</summary>
/// <param name="Position">Of the message; absent for a test.</param>
/// <param name="Message">Its id, the header <c>webhook-id</c>; absent for a test.</param>
/// <param name="Subject">What it is about, for example the label of a job.</param>
/// <param name="Attempt">1, 2, 3 … since it was taken up, or enabled again.</param>
/// <param name="Status">Of HTTP; absent where no answer came.</param>
/// <param name="Error">Absent where it arrived.</param>
/// <param name="NextAttemptAt">Absent where it arrived, and after the last one.</param>
public sealed record AttemptView(
    long? Position, string? Message, string Type, string? Subject, long Attempt, Instant At, bool Delivered, long? Status, long DurationMilliseconds, SendingError? Error, Instant? NextAttemptAt)
{
    internal static AttemptView Of(string site, StoredAttempt row) => new(
        row.Position == 0 ? null : row.Position,
        row is { MessageId: { } id, Created: { } created } ? Outbox.MessageId(site, id, created) : null,
        row.Type ?? MessageTypes.Test,
        row.Stream?.IndexOf('/') is > 0 and var slash ? row.Stream[(slash + 1)..] : null,
        row.Attempt, Microseconds.Read(row.At), row.Error is null, row.Status, row.DurationMilliseconds,
        row.Error is { } error ? Word.Read<SendingError>(error) : null, Microseconds.Read(row.NextAttempt));
}

/// <summary>What was sent to an endpoint and what came of it, newest first.</summary>
public static class ReadDeliveries
{
    /// <summary>Behind every id.</summary>
    private const string AfterAll = "\uffff";

    public static async Task<Results<Paged<AttemptView>, ProblemHttpResult>> Handle(string id, Page page, Caller caller, Reader reader, CancellationToken cancel)
    {
        var before = page.After is [var last] ? last : AfterAll;
        var rows = await reader.Read(
            connection => WebhookStore.Find(connection, caller.Site, id) is null ? null : DeliveryStore.Log(connection, caller.Site, id, before, page.Limit + 1), cancel);
        return rows is null ? EndpointView.NoEndpoint() : page.Mapped(rows, row => AttemptView.Of(caller.Site, row), row => [row.Id]);
    }
}
