using System.Reflection;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using Workshop.Core.Orders;
using Workshop.Core.Outgoing;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Http.Signatures;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Storefront;

/// <summary>A storefront's signed post. The signature alone says who it is; once it is right, whatever the body says is kept and answered 202.</summary>
public static class PostStorefrontEvents
{
    public static async Task<Results<Taken, ProblemHttpResult>> Handle(SignedBody body, Reader reader, Writer writer, RealTime time, CancellationToken cancel)
    {
        var (storefront, verdict) = await Signer(body, reader, time, cancel);
        return storefront is null
            ? Refused(verdict)
            : new Taken(await HearDelivery.Hear(writer, new Delivery(storefront, StorefrontDoor.Post, body.Headers.Id!, body.Bytes), cancel));
    }

    /// <summary>What of a signature differs; it says nothing of any secret.</summary>
    internal static ProblemHttpResult Refused(SignatureVerdict verdict) => Problems.Of(
        ProblemCatalogue.SignatureRefused, verdict.Sentence,
        ("differs", Word.Of(verdict.Fault)), ("webhookId", verdict.Id), ("webhookTimestamp", verdict.Timestamp), ("bodyBytes", verdict.BodyBytes), ("bodySha256", verdict.BodySha256));

    private static Task<(StoredStorefront? From, SignatureVerdict Verdict)> Signer(SignedBody body, Reader reader, RealTime time, CancellationToken cancel) =>
        reader.Read<(StoredStorefront?, SignatureVerdict)>(connection =>
        {
            var verdict = WebhookSignature.Verify([], body.Headers, body.Bytes, time.Now);
            foreach (var secrets in StorefrontStore.SecretsInForce(connection, time.Now).GroupBy(one => (one.Site, one.Storefront)))
            {
                var told = WebhookSignature.Verify([.. secrets.Select(one => Read(one.Secret))], body.Headers, body.Bytes, time.Now);
                if (told.Genuine)
                {
                    return (StorefrontStore.Find(connection, secrets.Key.Site, secrets.Key.Storefront), told);
                }

                // The one that comes nearest is the most help.
                verdict = verdict.Fault == SignatureFault.SignatureOfSomethingElse ? told : verdict;
            }

            return (null, verdict);
        }, cancel);

    private static WebhookSecret Read(string written) =>
        WebhookSecret.TryRead(written, out var secret) ? secret : throw new InvalidDataException("The database holds a secret that is none.");
}

/// <summary>202: everything is kept; <c>flags</c> says what somebody will have to look at.</summary>
public sealed class Taken(string body) : IResult, IEndpointMetadataProvider
{
    public Task ExecuteAsync(HttpContext context) => new AnswerText { Status = StatusCodes.Status202Accepted, Body = body }.ExecuteAsync(context);

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder)
    {
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status202Accepted, typeof(DeliveryHeard), [AnswerText.Json]));
        builder.Metadata.Add(new ProducesResponseTypeMetadata(StatusCodes.Status401Unauthorized, typeof(Microsoft.AspNetCore.Mvc.ProblemDetails), [Problems.MediaType]));
    }
}
