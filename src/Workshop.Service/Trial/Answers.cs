using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Trial;

/// <summary>Answers one request at the stand-in's door.</summary>
internal delegate Task Answering(StandIn door, HttpContext context, SentPost post);

/// <summary>The ways in which a request can be answered, or not.</summary>
internal static class Answers
{
    /// <summary>Each event is judged and everything is answered as the service does it.</summary>
    public static Answering Judged { get; } = (door, context, post) =>
    {
        var results = post.Events.Select(door.Judge).ToArray();
        if (post.IsBatch)
        {
            return Write(context, StatusCodes.Status200OK, AnswerText.Json, new JsonArray([.. results.Select(result => (JsonNode)door.Edited(Results.InBatch(result)))]));
        }

        var (status, mediaType, body) = Results.Alone(results.Single());
        return Write(context, status, mediaType, status == StatusCodes.Status200OK ? door.Edited(body) : body);
    };

    /// <summary>The connection is cut before the service has kept anything.</summary>
    public static Answering Cut { get; } = (_, context, _) =>
    {
        context.Abort();
        return Task.CompletedTask;
    };

    /// <summary>The service has judged and kept everything; its answer is lost on the way.</summary>
    public static Answering Lost { get; } = (door, context, post) =>
    {
        foreach (var one in post.Events)
        {
            door.Judge(one);
        }

        context.Abort();
        return Task.CompletedTask;
    };

    /// <summary>Nothing comes until the client gives up or the trial lets go; then it is answered by another way.</summary>
    public static Answering Late(Task release, Answering then) => async (door, context, post) =>
    {
        await Task.WhenAny(release, Task.Delay(Timeout.Infinite, context.RequestAborted));
        await then(door, context, post);
    };

    /// <summary>The whole request is refused.</summary>
    public static Answering Refused(ProblemKind kind, int? retryAfterSeconds = null) => (_, context, _) =>
    {
        if (retryAfterSeconds is { } seconds)
        {
            context.Response.Headers.RetryAfter = seconds.ToString(CultureInfo.InvariantCulture);
        }

        return Write(context, kind.Status, Problems.MediaType, JsonSerializer.SerializeToNode(Problems.Details(kind, kind.Title), WorkshopJson.Options)!);
    };

    /// <summary>More events than this at once are too much.</summary>
    public static Answering AtMost(int events) => (door, context, post) => (post.Events.Length > events ? Refused(ProblemCatalogue.BodyTooLarge) : Judged)(door, context, post);

    /// <summary>A request that carries this event is too much, however few come with it.</summary>
    public static Answering TooLargeWith(string note) => (door, context, post) =>
        (post.Events.Any(one => Play.NoteOf(one) == note) ? Refused(ProblemCatalogue.BodyTooLarge) : Judged)(door, context, post);

    /// <summary>Somebody else answers: a sign-in page, a proxy.</summary>
    public static Answering Text(int status, string mediaType, string body) => (_, context, _) =>
        new AnswerText { Status = status, MediaType = mediaType, Body = body }.ExecuteAsync(context);

    /// <summary>The client is sent somewhere else.</summary>
    public static Answering Elsewhere { get; } = (door, context, _) =>
    {
        context.Response.StatusCode = StatusCodes.Status307TemporaryRedirect;
        context.Response.Headers.Location = door.SomewhereElse.ToString();
        return Task.CompletedTask;
    };

    private static Task Write(HttpContext context, int status, string mediaType, JsonNode body) =>
        new AnswerText { Status = status, MediaType = mediaType, Body = body.ToJsonString(WorkshopJson.Options) }.ExecuteAsync(context);
}
