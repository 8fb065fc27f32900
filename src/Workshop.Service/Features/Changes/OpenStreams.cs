using Workshop.Service.Settings;

namespace Workshop.Service.Features.Changes;

/// <summary>How many callers read along; each holds a connection for as long as it likes.</summary>
public sealed class OpenStreams(StreamSettings settings)
{
    private int open;

    /// <returns>Whether there was room; whoever got in says so again with <see cref="Leave"/>.</returns>
    public bool Enter()
    {
        if (Interlocked.Increment(ref open) <= settings.AtOnce)
        {
            return true;
        }

        Leave();
        return false;
    }

    public void Leave() => Interlocked.Decrement(ref open);
}
