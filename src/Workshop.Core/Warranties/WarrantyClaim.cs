using System.Collections.Immutable;
using NodaTime;

namespace Workshop.Core.Warranties;

/// <summary>A time in the house for a claim, from receipt to return.</summary>
/// <param name="ReturnedOn">Null while the watch is still here.</param>
public readonly record struct ClaimStay(LocalDate ReceivedOn, LocalDate? ReturnedOn);

/// <summary>What the warranty's days depend on in a claim.</summary>
public sealed record WarrantyClaim
{
    /// <summary>1, 2, 3 … within the job.</summary>
    public required int Number { get; init; }

    /// <summary>Null until it is decided.</summary>
    public bool? Covered { get; init; }

    /// <summary>The warranty lines the decision is about; all of them when null.</summary>
    public ImmutableArray<string>? Lines { get; init; }

    public ImmutableArray<ClaimStay> Stays { get; init; } = [];

    public bool Touches(string line) => Lines is not { } lines || lines.Contains(line);
}

/// <summary>A warranty line as it stands: its days with what claims added to them, and why.</summary>
/// <param name="HandedOverOn">The day of hand-over; the watch is under warranty from then on, the day itself is not counted.</param>
/// <param name="NominalLastDay">The last day before any extension.</param>
/// <param name="LastDay">The last day on which a fault may be reported, to its end in the workshop's own time.</param>
/// <param name="ExtensionDays">Days in the house for covered claims.</param>
/// <param name="Why">How the last day comes about, in words.</param>
public sealed record WarrantyLine(string Line, LocalDate HandedOverOn, LocalDate NominalLastDay, LocalDate LastDay, int ExtensionDays, string Why);
