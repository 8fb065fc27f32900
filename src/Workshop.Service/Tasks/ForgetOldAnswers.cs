using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Webhooks;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>Forgets the answers kept for repeats whose time is over, and what was logged of messages long ago.</summary>
public sealed class ForgetOldAnswers(Writer writer, AgendaStore sites, WebhookSettings settings, RealTime realTime)
{
    public async Task Run(CancellationToken cancel)
    {
        await writer.Turn(Migrations.FirstSite, turn => IdempotencyStore.Sweep(turn), cancel);
        foreach (var site in await sites.Sites(cancel))
        {
            await writer.Turn(site, turn => DeliveryStore.ForgetAttempts(turn, realTime.Now - settings.KeepLogFor), cancel);
        }
    }
}
