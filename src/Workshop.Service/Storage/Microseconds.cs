using NodaTime;

namespace Workshop.Service.Storage;

/// <summary>Moments as the database keeps them: whole microseconds since 1970-01-01T00:00Z.</summary>
public static class Microseconds
{
    private const long Ticks = 10;

    /// <summary>The last whole microsecond that is not after the moment.</summary>
    public static long Of(Instant moment)
    {
        var ticks = moment.ToUnixTimeTicks();
        return ticks >= 0 ? ticks / Ticks : -((Ticks - 1 - ticks) / Ticks);
    }

    public static long? Of(Instant? moment) => moment is { } known ? Of(known) : null;

    public static Instant Read(long microseconds) => Instant.FromUnixTimeTicks(checked(microseconds * Ticks));

    public static Instant? Read(long? microseconds) => microseconds is { } known ? Read(known) : null;

    /// <summary>Done once, at the door, so that what is decided with is what is kept.</summary>
    public static Instant Truncated(Instant moment) => Read(Of(moment));
}
