using System.Globalization;
using System.Threading.RateLimiting;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;

namespace Workshop.Service.Http;

/// <summary>
/// How much one key, and one address without a key, may ask for. It keeps a device that has gone wild from crowding out the
/// others; how much can be written is the writer's queue's to say. Counted in real time, whatever the workshop's clock shows.
/// </summary>
/// <remarks>Headers by draft-ietf-httpapi-ratelimit-headers (September 2025): RateLimit-Policy and RateLimit.</remarks>
public sealed class RateLimits : IDisposable
{
    private const int WindowSeconds = 10;

    private readonly PartitionedRateLimiter<HttpContext> limiter;
    private readonly LimitSettings limits;

    public RateLimits(LimitSettings limits)
    {
        this.limits = limits;
        limiter = PartitionedRateLimiter.Create<HttpContext, string>(context => Caller.Of(context) is { } caller
            ? Partition($"key {caller.KeyId}", limits.RequestsPerTenSeconds)
            : Partition($"address {context.Connection.RemoteIpAddress}", limits.StrangersPerTenSeconds));
    }

    /// <summary>Lets the request on, or answers 429.</summary>
    public async Task Limit(HttpContext context, RequestDelegate next)
    {
        using var lease = limiter.AttemptAcquire(context);
        var (policy, quota) = Caller.Of(context) is null ? ("address", limits.StrangersPerTenSeconds) : ("key", limits.RequestsPerTenSeconds);
        var left = limiter.GetStatistics(context)?.CurrentAvailablePermits ?? 0;
        context.Response.Headers["RateLimit-Policy"] = string.Create(CultureInfo.InvariantCulture, $"\"{policy}\";q={quota};w={WindowSeconds}");
        context.Response.Headers["RateLimit"] = string.Create(CultureInfo.InvariantCulture, $"\"{policy}\";r={left}");
        if (lease.IsAcquired)
        {
            await next(context);
            return;
        }

        var wait = lease.TryGetMetadata(MetadataName.RetryAfter, out var span) ? (int)Math.Ceiling(span.TotalSeconds) : WindowSeconds;
        context.Response.Headers.RetryAfter = Math.Max(wait, 1).ToString(CultureInfo.InvariantCulture);
        await Problems.Of(ProblemCatalogue.TooManyRequests, $"At most {quota} requests in {WindowSeconds} seconds are taken.").ExecuteAsync(context);
    }

    public void Dispose() => limiter.Dispose();

    private static RateLimitPartition<string> Partition(string name, int quota) => RateLimitPartition.GetFixedWindowLimiter(
        name,
        _ => new FixedWindowRateLimiterOptions { PermitLimit = quota, Window = TimeSpan.FromSeconds(WindowSeconds), QueueLimit = 0 });
}
