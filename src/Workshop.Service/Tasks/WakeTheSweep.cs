using System.Threading.Channels;
using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>
/// Wakes the sweep at the start, and after a commit that wrote a row which is due by now, so that a manager is told at once and not at
/// the alarm clock's next stroke.
/// </summary>
public sealed partial class WakeTheSweep(Writer writer, SweepDue sweep, ILogger<WakeTheSweep> log) : BackgroundService
{
    // One call is as good as many: whoever sweeps sees all that is due.
    private readonly Channel<bool> calls = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        writer.Committed += Hear;
        try
        {
            calls.Writer.TryWrite(true);
            await foreach (var _ in calls.Reader.ReadAllAsync(stoppingToken))
            {
                await Sweep(stoppingToken);
            }
        }
        finally
        {
            writer.Committed -= Hear;
        }
    }

    private void Hear(Commit commit)
    {
        if (commit.DueNow)
        {
            calls.Writer.TryWrite(true);
        }
    }

    private async Task Sweep(CancellationToken cancel)
    {
        try
        {
            await sweep.Run(cancel);
        }
        catch (Exception failure) when (failure is not OperationCanceledException)
        {
            // The alarm clock sweeps again in a moment; nothing that is due is forgotten meanwhile.
            SweepFailed(failure);
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "A sweep failed; the next one takes up what is due.")]
    private partial void SweepFailed(Exception failure);
}
