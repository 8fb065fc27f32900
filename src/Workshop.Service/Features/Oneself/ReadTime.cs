using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using NodaTime.Text;

namespace Workshop.Service.Features.Oneself;

/// <param name="Now">RFC 3339, to the millisecond.</param>
/// <param name="State">Whether this clock follows a reference, and whether it jumped within the last hour.</param>
public sealed record TimeView(string Now, ClockState State);

/// <summary>What time it is here; a device sets its own clock by it, or knows at least how wrong it is.</summary>
public static class ReadTime
{
    private static readonly InstantPattern ToTheMillisecond = InstantPattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'HH':'mm':'ss'.'fff'Z'");

    public static Ok<TimeView> Handle(IClock clock, ClockWatch watch, HttpContext context)
    {
        context.Response.Headers.CacheControl = "no-store";
        return TypedResults.Ok(new TimeView(ToTheMillisecond.Format(clock.GetCurrentInstant()), watch.State));
    }
}
