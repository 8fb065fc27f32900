using Workshop.Core.Journal;

namespace Workshop.Core.Timekeeping;

/// <summary>The shop's figures about rates.</summary>
public sealed record TimekeepingRules
{
    public static TimekeepingRules Usual { get; } = new();

    /// <summary>How a day on the wrist is spent; a rate on the wrist is predicted by it.</summary>
    public WearProfile WearProfile { get; init; } = WearProfile.Usual;

    /// <summary>What is wrong besides the limits of each member.</summary>
    public IEnumerable<Fault> Faults(string pointer) => WearProfile.Faults($"{pointer}/wearProfile");
}
