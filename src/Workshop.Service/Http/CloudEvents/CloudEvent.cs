using System.Collections.Immutable;
using NodaTime;

namespace Workshop.Service.Http.CloudEvents;

/// <summary>An event in the envelope of CloudEvents 1.0, as it was sent.</summary>
public sealed record CloudEvent
{
    /// <summary>The sender's own id; with <see cref="Source"/> the event's identity.</summary>
    public required string Id { get; init; }

    public required string Source { get; init; }

    public required string Type { get; init; }

    public string? Subject { get; init; }

    /// <summary>The time word for word, and read; both null where none was sent.</summary>
    public string? TimeText { get; init; }

    public OffsetDateTime? Time { get; init; }

    /// <summary>The sender's running number, 1 to 18 digits, compared as a number.</summary>
    public long? Sequence { get; init; }

    /// <summary>The text of <c>data</c>, byte for byte, but for a proof; <c>{}</c> where none was sent.</summary>
    public required string Data { get; init; }

    /// <summary>Attributes beyond those above that CloudEvents allows, with their value as JSON text.</summary>
    public ImmutableSortedDictionary<string, string> Further { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

    /// <summary>The short number that was told in the data. It is in neither of the texts, nor in the digest.</summary>
    public ToldNumber? Proof { get; init; }

    /// <summary>The whole event as it was sent, but for a proof.</summary>
    public required string Text { get; init; }

    /// <summary>SHA-256 of the content: equal digests mean that the same was said, whatever the blanks and the order of members.</summary>
    public required ImmutableArray<byte> Digest { get; init; }
}
