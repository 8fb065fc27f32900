using System.Collections.Concurrent;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.Answers;

/// <summary>
/// What makes a POST that creates something safe to send again: its Idempotency-Key (draft-ietf-httpapi-idempotency-key-header,
/// in quotes or bare). The answer is kept in the very turn that did the work, so that no crash can come between them; sent again
/// with the same body it is the first answer, with <c>Idempotency-Replayed: true</c>. Keys are each caller's own, kept 35 days.
/// </summary>
/// <remarks>
/// A request without a key is done once and never replayed: whoever types a request by hand need not make up a key, and whoever
/// sends one again by itself, a device or a program, sends a key. Answers of 500 and more are not kept, nor what is refused before
/// the turn (a body that cannot be read): asked again, it is simply judged again.
/// </remarks>
public sealed class Once : IBindableFromHttpContext<Once>, IEndpointParameterMetadataProvider, IRefusable
{
    public const string KeyHeader = "Idempotency-Key";
    public const string ReplayedHeader = "Idempotency-Replayed";

    private const int KeyAtMost = 200;

    private readonly HttpContext context;
    private readonly string? key;

    private Once(HttpContext context, string? key, ProblemHttpResult? refusal)
    {
        this.context = context;
        this.key = key;
        Refusal = refusal;
    }

    public ProblemHttpResult? Refusal { get; }

    public static ValueTask<Once?> BindAsync(HttpContext context, ParameterInfo parameter)
    {
        var sent = context.Request.Headers[KeyHeader];
        return ValueTask.FromResult<Once?>(
            sent.Count == 0 ? new Once(context, null, null)
            : sent.Count == 1 && Unquoted(sent.ToString()) is { } key ? new Once(context, key, null)
            : new Once(context, null, Problems.Of(
                ProblemCatalogue.IdempotencyKeyUnreadable, $"The header {KeyHeader} has to hold one key of 1 to {KeyAtMost} visible characters without blanks.")));
    }

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) => builder.Metadata.Add(new TakesIdempotencyKey());

    /// <summary>Does the work in its turn, unless it was done before.</summary>
    /// <param name="body">The body as sent: the same key with another one is refused.</param>
    /// <param name="work">May run twice and awaits nothing; see <see cref="Turn"/>.</param>
    /// <param name="kept">What a repeat is answered, where the answer holds what must not be kept; the answer itself when left out.</param>
    public async Task<Once<T>> Do<T>(Writer writer, ReadOnlyMemory<byte> body, Func<Turn, T> work, Func<IResult, IResult>? kept = null) where T : IResult, IEndpointMetadataProvider
    {
        var caller = Caller.Of(context) ?? throw new InvalidOperationException("Without a caller there is nobody whose key it would be.");
        if (key is null)
        {
            return new Once<T>(await writer.Turn(caller.Site, work, context.RequestAborted));
        }

        var digest = DigestOf(body);
        var running = context.RequestServices.GetRequiredService<RunningRequests>();
        if (!running.Begin(caller.KeyId, key))
        {
            return new Once<T>(StillRunning());
        }

        try
        {
            return new Once<T>(await writer.Turn(caller.Site, turn => InTurn(turn, caller.KeyId, digest, work, kept), context.RequestAborted));
        }
        finally
        {
            running.End(caller.KeyId, key);
        }
    }

    private IResult InTurn<T>(Turn turn, string apiKey, byte[] digest, Func<Turn, T> work, Func<IResult, IResult>? kept) where T : IResult
    {
        var found = IdempotencyStore.Begin(turn, apiKey, key!, digest);
        switch (found.State)
        {
            case IdempotencyState.New:
                var done = work(turn);
                var answer = AnswerText.Of(done);
                if (answer.Status < StatusCodes.Status500InternalServerError)
                {
                    IdempotencyStore.Finish(turn, apiKey, key!, (kept is null ? answer : AnswerText.Of(kept(done))).ToKeep());
                }
                else
                {
                    IdempotencyStore.Abandon(turn, apiKey, key!);
                }

                return answer;

            case IdempotencyState.Finished:
                return AnswerText.Again(found.Answer!);

            case IdempotencyState.Running:
                return StillRunning();

            case IdempotencyState.OtherPayload:
                return Problems.Of(ProblemCatalogue.IdempotencyKeyReused, "The first request with this key was another one.");

            default:
                throw new InvalidOperationException($"A key is {found.State}, which nobody expected.");
        }
    }

    private ProblemHttpResult StillRunning()
    {
        context.Response.Headers.RetryAfter = "1";
        return Problems.Of(ProblemCatalogue.StillRunning, "The first request with this key has not been answered yet.");
    }

    // The address belongs to it: the same body posted elsewhere is another request.
    private byte[] DigestOf(ReadOnlyMemory<byte> body)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.UTF8.GetBytes($"{context.Request.Method} {context.Request.Path.Value}\n"));
        hash.AppendData(body.Span);
        return hash.GetHashAndReset();
    }

    private static string? Unquoted(string sent)
    {
        var key = sent is ['"', .., '"'] ? sent[1..^1] : sent;
        return key.Length is > 0 and <= KeyAtMost && key.All(letter => letter is > ' ' and < (char)0x7F and not '"' and not '\\') ? key : null;
    }
}

/// <summary>The answer of something done once: what the work answered, or the first answer again.</summary>
/// <typeparam name="T">What the work may answer; for the API description.</typeparam>
public sealed class Once<T>(IResult answer) : IResult, IEndpointMetadataProvider where T : IResult, IEndpointMetadataProvider
{
    /// <summary>What is answered, first or again.</summary>
    internal IResult Answer => answer;

    public Task ExecuteAsync(HttpContext context) => answer.ExecuteAsync(context);

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder) => T.PopulateMetadata(method, builder);
}

/// <summary>The endpoint takes an Idempotency-Key.</summary>
public sealed record TakesIdempotencyKey;

/// <summary>Which keys are being worked on in this process. Another process waits for the database, where the first answer is found.</summary>
public sealed class RunningRequests
{
    private readonly ConcurrentDictionary<(string ApiKey, string Key), bool> running = new();

    public bool Begin(string apiKey, string key) => running.TryAdd((apiKey, key), true);

    public void End(string apiKey, string key) => running.TryRemove((apiKey, key), out _);
}
