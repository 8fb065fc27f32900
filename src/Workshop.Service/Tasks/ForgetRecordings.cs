using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Recordings;
using Workshop.Service.Settings;

namespace Workshop.Service.Tasks;

/// <summary>Removes the sound of recordings whose time is over; what was heard in them stays.</summary>
public sealed partial class ForgetRecordings(AgendaStore sites, RemoveOldRecordings old, RealTime realTime, ILogger<ForgetRecordings> log)
{
    public async Task Run(CancellationToken cancel)
    {
        foreach (var site in await sites.Sites(cancel))
        {
            if (await old.Run(site, realTime.Now, cancel) is > 0 and var count)
            {
                Removed(count);
            }
        }
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "Removed {Count} recordings whose time is over")]
    private partial void Removed(int count);
}
