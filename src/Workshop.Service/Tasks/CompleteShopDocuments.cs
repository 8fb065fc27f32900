using Workshop.Service.Features.Agenda;
using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>
/// A release may bring documents of the shop that an older one did not have, for example another kind of work. A shop that has none of
/// that name gets ours when the service starts; what it has saved itself stays as it is.
/// </summary>
public sealed class CompleteShopDocuments(AgendaStore store, Writer writer) : IHostedService
{
    public async Task StartAsync(CancellationToken cancellationToken)
    {
        foreach (var site in await store.Sites(cancellationToken))
        {
            await writer.Turn(site, turn => ShopDocuments.PutDefaults(turn), cancellationToken);
        }
    }

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
}
