using NodaTime;
using Workshop.Core.Route;

namespace Workshop.Core.Warranties;

/// <summary>A warranty line a kind of work comes with; <see cref="OnlyIf"/> names the stage that must stand at hand-over.</summary>
/// <param name="Term">A period of months or years; never hours.</param>
public sealed record WarrantyOffer(string Line, Period Term, Stage? OnlyIf = null);

/// <summary>A warranty line as it began at hand-over.</summary>
/// <param name="HandedOverOn">The day of hand-over in the workshop's own calendar; it is not counted.</param>
/// <param name="LastDay">The last day on which a claim is accepted, before any extension.</param>
public sealed record WarrantyTerm(string Line, Period Term, LocalDate HandedOverOn, LocalDate LastDay);
