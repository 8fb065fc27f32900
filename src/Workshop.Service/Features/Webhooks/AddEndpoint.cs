using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Journal;
using Workshop.Core.Outgoing;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Webhooks;

public sealed record NewEndpointBody
{
    /// <summary>An address that begins with https://.</summary>
    [StringLength(1_000, MinimumLength = 1)]
    public required string Url { get; init; }

    /// <summary>What people know it by.</summary>
    [StringLength(100, MinimumLength = 1)]
    public string? Description { get; init; }

    /// <summary>The types of messages it gets; all of them where left out.</summary>
    [Length(1, 100)]
    public ImmutableArray<string>? Types { get; init; }

    /// <summary>The storefront whose orders it hears of, for example <c>/storefront/shop</c>; every watch of the house where left out.</summary>
    [StringLength(200, MinimumLength = 1)]
    public string? Storefront { get; init; }

    /// <summary>The position after which messages are sent; only what is still to come where left out, 0 for all there are.</summary>
    [Range(0, long.MaxValue)]
    public long? After { get; init; }
}

/// <summary>Messages go to one more address from now on. Its secret is drawn here and shown once.</summary>
public static class AddEndpoint
{
    /// <summary>More are nobody's storefronts.</summary>
    private const int EndpointsAtMost = 50;

    public static Task<Once<Results<Made<EndpointView>, ProblemHttpResult>>> Handle(
        JsonBody<NewEndpointBody> body, Once once, HttpContext context, Writer writer, TargetGuard guard, RealTime realTime)
    {
        context.Response.Headers.CacheControl = "no-store";
        return once.Do(writer, body.Bytes, turn => Add(turn, body.Value, guard, realTime), WithoutSecret);
    }

    private static Results<Made<EndpointView>, ProblemHttpResult> Add(Turn turn, NewEndpointBody body, TargetGuard guard, RealTime realTime)
    {
        var edited = new EndpointBody { Url = body.Url, Description = body.Description, Types = body.Types, Storefront = body.Storefront };
        var last = Outbox.Last(turn);
        Fault[] faults =
        [
            .. edited.Faults(guard),
            .. body.After > last ? [new Fault("/after", $"The newest message has the position {last}")] : Array.Empty<Fault>(),
            .. WebhookStore.Count(turn) >= EndpointsAtMost ? [new Fault("", $"There are {EndpointsAtMost} endpoints; remove one first")] : Array.Empty<Fault>(),
        ];
        if (faults.Length > 0)
        {
            return Problems.BadFields(faults);
        }

        var endpoint = new StoredEndpoint
        {
            Id = Guid.CreateVersion7(turn.Now.ToDateTimeOffset()).ToString(),
            Version = 1,
            Url = body.Url,
            Description = body.Description,
            Types = body.Types is { } types ? JsonSerializer.Serialize(types, WorkshopJson.Options) : null,
            Storefront = body.Storefront,
            State = Word.Of(EndpointState.Enabled),
            StateSince = Microseconds.Of(turn.Now),
            Created = Microseconds.Of(turn.Now),
            TakenThrough = body.After ?? last,
            Failures = 0,
        };
        WebhookStore.Add(turn, endpoint);
        var secret = WebhookSecret.Draw();
        WebhookStore.AddSecret(turn, endpoint.Id, secret, realTime.Now, realTime.Now);
        return Answer.Made($"/v1/webhook-endpoints/{endpoint.Id}", 1, EndpointView.Of(turn, endpoint, secret.Written));
    }

    /// <summary>What a repeat is answered: the endpoint, but not its secret, which is kept for signing alone.</summary>
    private static IResult WithoutSecret(IResult answer) =>
        answer is INestedHttpResult { Result: Made<EndpointView> { Value: var shown } }
            ? Answer.Made($"/v1/webhook-endpoints/{shown.Id}", shown.Version, shown with { Secret = null })
            : answer;
}
