using Workshop.Service.Features.Storefront;

namespace Workshop.Service.Tasks;

/// <summary>Fetches what a storefront's inbox holds, every half minute; nothing where the machine's settings name none.</summary>
public sealed class ReadStorefront(AskInbox inbox)
{
    public Task Run(CancellationToken cancel) => inbox.Run(cancel);
}
