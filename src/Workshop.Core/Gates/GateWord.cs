namespace Workshop.Core.Gates;

/// <summary>What a gate had to say about an event that was decided.</summary>
public enum GateSaid
{
    /// <summary>It stopped an event that asked.</summary>
    Refused,

    /// <summary>It sent an event back that may go on with a tap.</summary>
    Asked,

    /// <summary>It stood against a report, which waits for a manager.</summary>
    Noted,

    /// <summary>Its strength is note: the event went through.</summary>
    Flagged,

    /// <summary>The person had been told and went on.</summary>
    Tapped,

    /// <summary>A manager's waiver let the event through.</summary>
    Waived,

    /// <summary>A manager settled the report as having happened.</summary>
    Settled,
}

/// <summary>One gate's word about one event.</summary>
/// <param name="Gate">The gate's full name.</param>
public sealed record GateWord(string Gate, GateSaid Said);
