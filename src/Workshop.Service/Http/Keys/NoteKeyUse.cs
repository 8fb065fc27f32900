using Workshop.Service.Storage;

namespace Workshop.Service.Http.Keys;

/// <summary>Writes once a minute when which key was last used, so that a key nobody uses any more is seen.</summary>
internal sealed partial class NoteKeyUse(ApiKeys keys, Writer writer, ILogger<NoteKeyUse> log) : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromMinutes(1);

    protected override async Task ExecuteAsync(CancellationToken cancel)
    {
        using var minute = new PeriodicTimer(Every);
        while (await minute.WaitForNextTickAsync(cancel))
        {
            try
            {
                await keys.FlushUse(writer, cancel);
            }
            catch (Exception failure) when (failure is WriterBusyException or StorageUnavailableException)
            {
                NextMinuteThen(failure);
            }
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "When keys were used could not be written; it is tried again in a minute")]
    private partial void NextMinuteThen(Exception failure);
}
