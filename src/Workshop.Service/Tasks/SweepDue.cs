using NodaTime;

namespace Workshop.Service.Tasks;

/// <summary>Looks for what has fallen due or become overdue by now and says so. May run twice or late without harm.</summary>
public sealed class SweepDue(IClock clock)
{
    public Task Run(CancellationToken cancel) => Run(clock.GetCurrentInstant(), cancel);

    /// <param name="now">What is due by this moment is said; the demo's clock and the tests choose it.</param>
    public Task Run(Instant now, CancellationToken cancel) => Task.CompletedTask;
}
