using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.House;

/// <summary>A copy of everything that is kept was made: by the service itself, or told of by whoever made it.</summary>
public sealed record BackUpMade : WorkshopEvent
{
    /// <summary>The moment whose state it holds.</summary>
    public required Instant MadeAt { get; init; }

    /// <summary>The name of the file, or a few words on where it lies.</summary>
    public required string Where { get; init; }

    public long? Bytes { get; init; }
}
