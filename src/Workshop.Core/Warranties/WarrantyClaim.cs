using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Words;

namespace Workshop.Core.Warranties;

/// <summary>A time in the house for a claim, from receipt to return.</summary>
/// <param name="ReturnedOn">Null while the watch is still here.</param>
public readonly record struct ClaimStay(LocalDate ReceivedOn, LocalDate? ReturnedOn)
{
    /// <summary>Its days; null while the watch is still here.</summary>
    /// <param name="bothEndDays">Whether the day of return counts as well as that of receipt.</param>
    public int? Days(bool bothEndDays) =>
        ReturnedOn is { } returned ? Math.Max(0, Period.DaysBetween(ReceivedOn, returned) + (bothEndDays ? 1 : 0)) : null;
}

/// <summary>What the warranty's days depend on in a claim.</summary>
public sealed record WarrantyClaim
{
    /// <summary>1, 2, 3 … within the job.</summary>
    public required int Number { get; init; }

    /// <summary>Null where nobody has said it.</summary>
    public LocalDate? ReportedOn { get; init; }

    /// <summary>Null until it is decided.</summary>
    public bool? Covered { get; init; }

    /// <summary>What was put right free of charge although it is not covered; that adds nothing by any rule.</summary>
    public string? Goodwill { get; init; }

    /// <summary>The warranty lines the decision is about; all of them when null.</summary>
    public ImmutableArray<string>? Lines { get; init; }

    public ImmutableArray<ClaimStay> Stays { get; init; } = [];

    /// <summary>The day the watch came for it; null until it has.</summary>
    public LocalDate? ArrivedOn => Stays.IsEmpty ? null : Stays.Min(stay => stay.ReceivedOn);

    public bool Touches(string line) => Lines is not { } lines || lines.Contains(line);

    /// <summary>The last day on which the watch may arrive for the report to count; null without a limit.</summary>
    public LocalDate? ArrivesBy(ClaimRules rules) => ReportedOn is { } reported && rules.WatchArrivesWithin is { } within ? reported + within : null;

    public bool ArrivedTooLate(ClaimRules rules) => ArrivedOn > ArrivesBy(rules);

    /// <summary>The day that decides whether it is in time: that of the report, or that of the arrival where the watch came too late for it.</summary>
    public LocalDate? DayThatCounts(ClaimRules rules) => ArrivedTooLate(rules) ? ArrivedOn : ReportedOn ?? ArrivedOn;
}

/// <summary>A warranty line as it stands: its days with what claims added to them, and why.</summary>
/// <param name="HandedOverOn">The day of hand-over; a fault is covered from then on.</param>
/// <param name="StartsOn">The day the term runs from.</param>
/// <param name="NominalLastDay">The last day before any extension.</param>
/// <param name="LastDay">The last day on which a fault may be reported, to its end in the workshop's own time.</param>
/// <param name="ExtensionDays">Days in the house that were added.</param>
/// <param name="NewWorkLastDay">The last day of the work of claims, where it has one of its own; it counts where it is the later one.</param>
/// <param name="Steps">How the last day comes about, one sentence a step.</param>
public sealed record WarrantyLine(
    string Line, LocalDate HandedOverOn, LocalDate StartsOn, LocalDate NominalLastDay, LocalDate LastDay, int ExtensionDays, LocalDate? NewWorkLastDay, ImmutableArray<Phrase> Steps)
{
    public required WarrantyTerm Term { get; init; }

    /// <summary>The steps in English, one after the other.</summary>
    public string Why => WhyIn(Language.English);

    public string WhyIn(Language language) => string.Join(' ', Steps.Select(step => step.In(language)));
}
