using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Webhooks;

/// <summary>
/// Another address, other types, or a pause. What comes while an endpoint is paused waits for it; enabled again it gets it in order,
/// and what had failed is tried at once.
/// </summary>
public static class EditEndpoint
{
    public static async Task<Results<Seen<EndpointView>, ProblemHttpResult>> Handle(
        string id, MergePatch<EndpointBody> patch, SeenState seen, Caller caller, Writer writer, TargetGuard guard, CancellationToken cancel) =>
        await writer.Turn(caller.Site, turn => Edit(turn, id, patch, seen, guard), cancel);

    private static Results<Seen<EndpointView>, ProblemHttpResult> Edit(Turn turn, string id, MergePatch<EndpointBody> patch, SeenState seen, TargetGuard guard)
    {
        if (WebhookStore.Find(turn, id) is not { } stored)
        {
            return EndpointView.NoEndpoint();
        }

        if (seen.RefusalUnlessStill(stored.Version) is { } changed)
        {
            return changed;
        }

        var before = new EndpointBody
        {
            Url = stored.Url,
            Description = stored.Description,
            Types = stored.TypesAsked(),
            Storefront = stored.Storefront,
            State = Word.Read<EndpointState>(stored.State)!.Value,
        };
        var (after, unreadable) = patch.Apply(before);
        if (after is null)
        {
            return Problems.BadFields(unreadable);
        }

        if (after.Faults(guard, before).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var edited = stored with
        {
            Version = stored.Version + 1,
            Url = after.Url!,
            Description = after.Description,
            Types = after.Types is { } types ? JsonSerializer.Serialize(types, WorkshopJson.Options) : null,
            Storefront = after.Storefront,
        };
        if (after.State != before.State)
        {
            edited = edited with
            {
                State = Word.Of(after.State),
                Reason = after.State == EndpointState.Enabled ? null : Word.Of(StopReason.ByHand),
                StateSince = Microseconds.Of(turn.Now),
            };
        }

        // Whoever enables it, or says where it is now, means at once.
        if (after.State == EndpointState.Enabled && (after.State != before.State || after.Url != before.Url))
        {
            edited = edited with { HeldUntil = null, Failures = 0 };
            DeliveryStore.AllAtOnce(turn, id);
        }

        WebhookStore.Save(turn, edited);
        HouseAgenda.Refresh(turn);
        turn.CallSender();
        return Answer.Seen(edited.Version, EndpointView.Of(turn, edited));
    }
}

/// <summary>Nothing goes there any more, and what waits or was logged for it is forgotten.</summary>
public static class RemoveEndpoint
{
    public static async Task<Results<NoContent, ProblemHttpResult>> Handle(string id, Caller caller, Writer writer, CancellationToken cancel) =>
        await writer.Turn(caller.Site, turn => Remove(turn, id), cancel);

    private static Results<NoContent, ProblemHttpResult> Remove(Turn turn, string id)
    {
        if (WebhookStore.Find(turn, id) is null)
        {
            return EndpointView.NoEndpoint();
        }

        DeliveryStore.Forget(turn, id);
        WebhookStore.Remove(turn, id);
        HouseAgenda.Refresh(turn);
        return TypedResults.NoContent();
    }
}
