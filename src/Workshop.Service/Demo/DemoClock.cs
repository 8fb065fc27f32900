using NodaTime;

namespace Workshop.Service.Demo;

/// <summary>The demo's clock: it ticks on like any other, from whatever moment it was set to.</summary>
public sealed class DemoClock(IClock real) : IClock
{
    private readonly Lock gate = new();
    private Duration ahead = Duration.Zero;

    public Instant GetCurrentInstant()
    {
        lock (gate)
        {
            return real.GetCurrentInstant() + ahead;
        }
    }

    /// <summary>Sets it to any moment, earlier or later.</summary>
    public void Set(Instant now)
    {
        lock (gate)
        {
            ahead = now - real.GetCurrentInstant();
        }
    }

    /// <summary>Sets it to a moment unless it has ticked beyond it already.</summary>
    public void SetAhead(Instant now)
    {
        lock (gate)
        {
            ahead = Duration.Max(ahead, now - real.GetCurrentInstant());
        }
    }
}
