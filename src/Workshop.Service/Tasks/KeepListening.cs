using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Recordings;

namespace Workshop.Service.Tasks;

/// <summary>Listens to recordings that wait, as long as the service runs: at once when somebody calls, and whenever one may have been left.</summary>
public sealed class KeepListening(ListenToRecording listener, AgendaStore sites) : BackgroundService
{
    // Another instance may have left one, or the service itself, the last time it ended.
    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(30);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            while (!stoppingToken.IsCancellationRequested)
            {
                await listener.Watch(ListenOnce(stoppingToken));
                using var patience = CancellationTokenSource.CreateLinkedTokenSource(stoppingToken);
                patience.CancelAfter(LookEvery);
                try
                {
                    await listener.WaitForCall(patience.Token);
                }
                catch (OperationCanceledException) when (!stoppingToken.IsCancellationRequested)
                {
                    // Nobody called; it is looked at all the same.
                }
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The service ends.
        }
    }

    private async Task ListenOnce(CancellationToken cancel)
    {
        foreach (var site in await sites.Sites(cancel))
        {
            await listener.ListenToAll(site, cancel);
        }
    }
}
