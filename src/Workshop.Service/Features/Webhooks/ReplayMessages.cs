using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Journal;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Webhooks;

public sealed record ReplayBody
{
    /// <summary>The position after which every message is sent again.</summary>
    [Range(0, long.MaxValue)]
    public required long After { get; init; }
}

/// <summary>
/// Everything after a position is sent again, in order and under the ids it had, for a receiver that has lost what it had. Also what was
/// left out while the endpoint wanted other types.
/// </summary>
public static class ReplayMessages
{
    public static async Task<Once<Results<Done<EndpointView>, ProblemHttpResult>>> Handle(string id, JsonBody<ReplayBody> body, Once once, Writer writer) =>
        await once.Do(writer, body.Bytes, turn => Replay(turn, id, body.Value.After));

    private static Results<Done<EndpointView>, ProblemHttpResult> Replay(Turn turn, string id, long after)
    {
        if (WebhookStore.Find(turn, id) is not { } stored)
        {
            return EndpointView.NoEndpoint();
        }

        if (after > stored.TakenThrough)
        {
            return Problems.BadFields(new Fault("/after", $"Only what is up to the position {stored.TakenThrough} was taken up for this endpoint; the rest is still to come by itself"));
        }

        DeliveryStore.ForgetWaitingAfter(turn, id, after);
        var replayed = stored with { TakenThrough = after };
        WebhookStore.Save(turn, replayed);
        turn.CallSender();
        return Answer.Done(EndpointView.Of(turn, replayed));
    }
}
