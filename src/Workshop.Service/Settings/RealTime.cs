using NodaTime;

namespace Workshop.Service.Settings;

/// <summary>The machine's own clock, for waits that concern devices and lines and not the workshop: the workshop's clock may be a demo's or a test's.</summary>
public sealed record RealTime(IClock Clock)
{
    public Instant Now => Clock.GetCurrentInstant();
}
