using Workshop.Core.Journal;

namespace Workshop.Core.Sources;

/// <summary>What a device says about itself, not about a watch. It stands in the stream of its source.</summary>
public abstract record SourceEvent : WorkshopEvent;

/// <summary>Numbers that will never come: nobody need wait for them.</summary>
public sealed record GapDeclared : SourceEvent
{
    /// <summary>The first number that was lost.</summary>
    public required long From { get; init; }

    /// <summary>The last number that was lost.</summary>
    public required long To { get; init; }
}

/// <summary>A device is there, and says how it is.</summary>
public sealed record DeviceHeard : SourceEvent
{
    /// <summary>Events that still wait on the device.</summary>
    public required int QueueLength { get; init; }

    /// <summary>Charge, 0 to 100 in percent.</summary>
    public int? Battery { get; init; }
}
