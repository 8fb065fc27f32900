using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Storefront;
using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>Looks every few minutes at what falls due in the house without a job: silent devices, old fluids, back-ups.</summary>
public sealed class LookAtTheHouse(AgendaStore store, Writer writer)
{
    public async Task Run(CancellationToken cancel)
    {
        foreach (var site in await store.Sites(cancel))
        {
            await writer.Turn(site, turn =>
            {
                StorefrontCustomers.Begin(turn);
                HouseAgenda.Refresh(turn);
            }, cancel);
        }
    }
}
