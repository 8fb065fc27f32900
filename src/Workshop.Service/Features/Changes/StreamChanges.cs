using System.Globalization;
using System.Reflection;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Changes;

/// <summary>
/// The changes as they happen, as server-sent events (WHATWG HTML, "server-sent events"). Each has its position as its id, so that a
/// caller whose line broke goes on with <c>Last-Event-ID</c> where it was; nothing is remembered here about anybody.
/// </summary>
public static class StreamChanges
{
    public static Results<ChangesStream, ProblemHttpResult> Handle(
        HttpContext context, Caller caller, ChangesStore store, ApiKeys keys, ChangesBell bell, OpenStreams streams, StreamSettings settings, IHostApplicationLifetime lifetime, long? after)
    {
        var from = after ?? 0;
        if (context.Request.Headers["Last-Event-ID"] is { Count: > 0 } last && !long.TryParse(last.ToString(), NumberStyles.None, CultureInfo.InvariantCulture, out from))
        {
            return Problems.BadParameter("Last-Event-ID", "This is no position.");
        }

        if (from < 0)
        {
            return Problems.BadParameter("after", "This is no position.");
        }

        if (!streams.Enter())
        {
            context.Response.Headers.RetryAfter = "10";
            return Problems.Of(ProblemCatalogue.TooManyStreams, $"{settings.AtOnce} callers read along already; read /v1/changes from time to time, or try again.");
        }

        // Released with the request, however it ends.
        context.Response.OnCompleted(() =>
        {
            streams.Leave();
            return Task.CompletedTask;
        });
        return new ChangesStream(caller, store, keys, bell, settings, lifetime.ApplicationStopping, from);
    }
}

/// <summary>200 and a stream that ends with the service, with its key, or with its caller.</summary>
public sealed class ChangesStream(
    Caller caller, ChangesStore store, ApiKeys keys, ChangesBell bell, StreamSettings settings, CancellationToken stopping, long from) : IResult, IEndpointMetadataProvider
{
    private const int PageOf = 200;
    private const int BackInMilliseconds = 2_000;

    // What another instance commits rings no bell here.
    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(2);

    public async Task ExecuteAsync(HttpContext context)
    {
        context.Response.ContentType = "text/event-stream";
        context.Response.Headers.CacheControl = "no-store";
        context.Response.Headers["X-Accel-Buffering"] = "no";
        using var end = CancellationTokenSource.CreateLinkedTokenSource(context.RequestAborted, stopping);
        try
        {
            await Write(context.Response, $"retry: {BackInMilliseconds}\n\n", end.Token);
            await Follow(context.Response, end.Token);
        }
        catch (OperationCanceledException) when (end.IsCancellationRequested)
        {
            // Whoever read along is gone, or the service ends: they come again with the last id they saw.
        }
    }

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder) =>
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(string), ["text/event-stream"]));

    private async Task Follow(HttpResponse response, CancellationToken cancel)
    {
        var seen = from;
        var beat = settings.BeatEvery.ToTimeSpan();
        var quiet = System.Diagnostics.Stopwatch.GetTimestamp();
        while (true)
        {
            var next = bell.Next;
            var (text, last, full) = await After(seen, cancel);
            if (text.Length > 0)
            {
                seen = last;
                quiet = System.Diagnostics.Stopwatch.GetTimestamp();
                await Write(response, text, cancel);
            }

            if (full)
            {
                continue;
            }

            if (System.Diagnostics.Stopwatch.GetElapsedTime(quiet) >= beat)
            {
                if (!await keys.Holds(caller.Site, caller.KeyId, cancel))
                {
                    return;
                }

                quiet = System.Diagnostics.Stopwatch.GetTimestamp();
                await Write(response, ": still here\n\n", cancel);
            }

            await Task.WhenAny(next, Task.Delay(beat < LookEvery ? beat : LookEvery, cancel));
            cancel.ThrowIfCancellationRequested();
        }
    }

    private async Task<(string Text, long Last, bool Full)> After(long seen, CancellationToken cancel)
    {
        var text = new StringBuilder();
        if (caller.Role == Role.Storefront)
        {
            var messages = await store.MessagesAfter(caller.Site, caller.Source, seen, PageOf, cancel);
            foreach (var message in messages)
            {
                Append(text, message.Position, message.Type, Encoding.UTF8.GetString(Outbox.Event(caller.Site, message)));
            }

            return (text.ToString(), messages is [.., var newest] ? newest.Position : seen, messages.Count == PageOf);
        }

        var rows = await store.After(caller.Site, seen, PageOf, cancel);
        foreach (var row in rows)
        {
            Append(text, row.Position, row.Type, JsonSerializer.Serialize(Change.Of(row), WorkshopJson.Options));
        }

        return (text.ToString(), rows is [.., var last] ? last.Position : seen, rows.Count == PageOf);
    }

    // JSON of ours has no line ends.
    private static void Append(StringBuilder text, long position, string type, string json) =>
        text.Append(CultureInfo.InvariantCulture, $"id: {position}\nevent: {type}\ndata: {json}\n\n");

    private static async Task Write(HttpResponse response, string text, CancellationToken cancel)
    {
        await response.WriteAsync(text, cancel);
        await response.Body.FlushAsync(cancel);
    }
}
