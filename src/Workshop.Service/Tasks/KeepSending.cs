using System.Collections.Concurrent;
using System.Threading.Channels;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Webhooks;
using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>
/// Sends messages as long as the service runs: at once after a commit that wrote one, and whenever one's time may have come. Each endpoint
/// is worked through by itself, so that a slow receiver keeps nobody else waiting.
/// </summary>
public sealed partial class KeepSending(Writer writer, Reader reader, AgendaStore sites, SendMessages send, ILogger<KeepSending> log) : BackgroundService
{
    // Another instance, or an hour, may have brought something: looked at beside the writer.
    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(1);

    private readonly Channel<bool> calls = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });
    private readonly ConcurrentDictionary<(string Site, string Endpoint), Task> working = new();

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        writer.Committed += Hear;
        try
        {
            while (!stoppingToken.IsCancellationRequested)
            {
                await Begin(stoppingToken);
                using var patience = CancellationTokenSource.CreateLinkedTokenSource(stoppingToken);
                patience.CancelAfter(LookEvery);
                try
                {
                    await calls.Reader.ReadAsync(patience.Token);
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
        finally
        {
            writer.Committed -= Hear;
            await Task.WhenAll(working.Values);
        }
    }

    private void Hear(Commit commit)
    {
        if (commit.HasMessages)
        {
            calls.Writer.TryWrite(true);
        }
    }

    private async Task Begin(CancellationToken cancel)
    {
        try
        {
            foreach (var site in await sites.Sites(cancel))
            {
                foreach (var endpoint in await WebhookStore.Enabled(reader, site, cancel))
                {
                    var key = (site, endpoint);
                    if (!working.TryGetValue(key, out var running) || running.IsCompleted)
                    {
                        working[key] = Work(site, endpoint, cancel);
                    }
                }
            }
        }
        catch (StorageUnavailableException failure)
        {
            NotNow(failure.Message);
        }
    }

    private async Task Work(string site, string endpoint, CancellationToken cancel)
    {
        try
        {
            await send.Run(site, endpoint, cancel);
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // The service ends; what was on its way is sent again.
        }
        catch (Exception failure) when (failure is StorageUnavailableException or WriterBusyException)
        {
            NotNow(failure.Message);
        }
        catch (Exception failure)
        {
            SendingFailed(failure, endpoint);
        }
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "Messages wait: {Why}")]
    private partial void NotNow(string why);

    [LoggerMessage(Level = LogLevel.Error, Message = "Messages for the endpoint {Endpoint} could not be worked through; it is tried again in a moment.")]
    private partial void SendingFailed(Exception failure, string endpoint);
}
