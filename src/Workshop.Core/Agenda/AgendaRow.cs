using NodaTime;

namespace Workshop.Core.Agenda;

/// <summary>
/// Something that falls due in a job. <see cref="Due"/> is the physical moment; <see cref="Task"/> is when somebody is there to do it;
/// <see cref="Wake"/> is the next moment at which the sweep has something to say, or null when all is said.
/// </summary>
public sealed record AgendaRow
{
    public required AgendaKind Kind { get; init; }

    /// <summary>Unique within stream and kind.</summary>
    public required string Ref { get; init; }

    /// <summary>Null while there is no due moment (a paused check).</summary>
    public Instant? Due { get; init; }

    public Instant? Task { get; init; }

    public Instant? Wake { get; init; }

    /// <summary>The level that <see cref="Wake"/> will announce.</summary>
    public AgendaLevel Level { get; init; }

    /// <summary>One line for the reader.</summary>
    public required string Line { get; init; }
}
