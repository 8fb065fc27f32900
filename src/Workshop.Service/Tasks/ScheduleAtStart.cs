using Hangfire;
using Workshop.Service.Settings;

namespace Workshop.Service.Tasks;

/// <summary>
/// Tells Hangfire of the tasks once the service runs. An instance that was killed may still hold a lock there for a while: the benches
/// are served meanwhile, and it is tried again.
/// </summary>
public sealed partial class ScheduleAtStart(IRecurringJobManager tasks, MachineSettings settings, ILogger<ScheduleAtStart> log) : BackgroundService
{
    private static readonly TimeSpan AgainAfter = TimeSpan.FromSeconds(5);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await Task.Run(() => TaskSchedule.Register(tasks, settings), stoppingToken);
                return;
            }
            catch (Exception failure) when (failure is not OperationCanceledException)
            {
                NotYet(failure.Message);
                await Task.Delay(AgainAfter, stoppingToken);
            }
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "The tasks could not be scheduled yet and will be again in a moment: {Why}")]
    private partial void NotYet(string why);
}
