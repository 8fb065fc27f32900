using System.Text.Json;
using NodaTime;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>What became of an event.</summary>
/// <param name="Text">The result as it is kept, to be sent just so; null where nothing was kept.</param>
internal sealed record Verdict(EventResult Result, string? Text = null)
{
    /// <summary>The real time at which it, or what waits behind it, is to be judged; null where nothing waits.</summary>
    public Instant? LookAgainAt { get; init; }

    public static Verdict ToKeep(EventResult result) => new(result, JsonSerializer.Serialize(result, WorkshopJson.Options));
}
