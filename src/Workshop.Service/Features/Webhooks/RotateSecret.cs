using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Webhooks;

public sealed record RotateSecretBody
{
    /// <summary>How long the old secrets go on signing beside the new one; as the machine's setting says where left out. Nothing at all where one has become known.</summary>
    public Duration? OldOnesFor { get; init; }
}

/// <summary>A new secret for an endpoint. For a while both sign, so that the receiver can change over at leisure.</summary>
public static class RotateSecret
{
    private static readonly Duration LongestOverlap = Duration.FromDays(30);

    public static async Task<Once<Results<Done<EndpointView>, ProblemHttpResult>>> Handle(
        string id, JsonBody<RotateSecretBody> body, Once once, HttpContext context, Writer writer, WebhookSettings settings, RealTime realTime)
    {
        context.Response.Headers.CacheControl = "no-store";
        return await once.Do(writer, body.Bytes, turn => Rotate(turn, id, body.Value.OldOnesFor ?? settings.OldSecretFor, realTime), WithoutSecret);
    }

    private static Results<Done<EndpointView>, ProblemHttpResult> Rotate(Turn turn, string id, Duration oldOnesFor, RealTime realTime)
    {
        if (WebhookStore.Find(turn, id) is not { } stored)
        {
            return EndpointView.NoEndpoint();
        }

        if (oldOnesFor < Duration.Zero || oldOnesFor > LongestOverlap)
        {
            return Problems.BadFields(new Fault("/oldOnesFor", "This is from PT0S to P30D"));
        }

        var secret = WebhookSecret.Draw();
        WebhookStore.AddSecret(turn, id, secret, realTime.Now, realTime.Now + oldOnesFor);
        return Answer.Done(EndpointView.Of(turn, stored, secret.Written));
    }

    private static IResult WithoutSecret(IResult answer) =>
        answer is INestedHttpResult { Result: Done<EndpointView> { Value: var shown } } ? Answer.Done(shown with { Secret = null }) : answer;
}
