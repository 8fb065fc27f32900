using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Webhooks;

/// <summary>What came of a test.</summary>
/// <param name="Message">Its id, the header <c>webhook-id</c>.</param>
/// <param name="Status">Of HTTP; absent where no answer came.</param>
public sealed record TestView(string Message, bool Delivered, int? Status, long DurationMilliseconds, SendingError? Error);

/// <summary>Sends an endpoint a message of the type <c>webhook.test</c> at once, also while it is paused, and tells what came of it. It has no position and is not sent again.</summary>
public static class TryEndpoint
{
    public static async Task<Results<Done<TestView>, ProblemHttpResult>> Handle(
        string id, Caller caller, Reader reader, Writer writer, PostMessage post, RealTime realTime, CancellationToken cancel)
    {
        var (endpoint, secrets) = await reader.Read(
            connection => (WebhookStore.Find(connection, caller.Site, id), WebhookStore.InForce(WebhookStore.Secrets(connection, caller.Site, id), realTime.Now)), cancel);
        if (endpoint is null)
        {
            return EndpointView.NoEndpoint();
        }

        var now = realTime.Now;
        var message = $"msg_{Guid.CreateVersion7(now.ToDateTimeOffset()):N}";
        var attempt = await post.Send(new Uri(endpoint.Url), secrets, message, Body(caller.Site, message, id, now), cancel);
        await writer.Turn(caller.Site, turn =>
        {
            if (WebhookStore.Find(turn, id) is not null)
            {
                DeliveryStore.Note(turn, id, position: 0, number: 1, attempt, next: null);
            }
        }, cancel);
        return Answer.Done(new TestView(message, attempt.Error is null, attempt.Status, (long)attempt.Took.TotalMilliseconds, attempt.Error));
    }

    private static byte[] Body(string site, string message, string endpoint, Instant at) => JsonSerializer.SerializeToUtf8Bytes(
        new TestEvent("1.0", message, Outbox.SourceOf(site), MessageTypes.Test, at, "application/json", new TestData(endpoint, at)), WorkshopJson.Options);

    private sealed record TestEvent(string Specversion, string Id, string Source, string Type, Instant Time, string Datacontenttype, TestData Data);

    private sealed record TestData(string Endpoint, Instant At);
}
