using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.Warranties;

/// <summary>From which day to which the watch was in the house for a claim.</summary>
public sealed record Stay(LocalDate ReceivedOn, LocalDate? ReturnedOn);

/// <summary>A fault reported under warranty, and what became of it.</summary>
/// <param name="Lines">The warranty lines the decision is about; null for all.</param>
public sealed record Claim(
    int Number, LocalDate ReportedOn, LocalDate? ReceivedOn, Instant ReportedAt, bool? Covered, ImmutableArray<string>? Lines, string? Reason, Instant? DecidedAt, Stay? Stay);

public sealed record WarrantyBook
{
    /// <summary>The lines that began at hand-over.</summary>
    public ImmutableArray<WarrantyTerm> Terms { get; init; } = [];

    public ImmutableArray<Claim> Claims { get; init; } = [];

    public LocalDate? HandedOverOn { get; init; }

    public Heard<WarrantyBook> Apply(Entry entry) => entry.Event switch
    {
        // Only the hand-over of the last piece carries terms: the warranty begins with it.
        JobHandedOver over when entry.Judged.Warranty is { } terms => new(this with { HandedOverOn = over.On, Terms = terms }),
        ClaimReported reported => new(this with
        {
            Claims = Claims.Add(new(reported.Claim, reported.ReportedOn, reported.ReceivedOn, entry.Effective, null, null, null, null, reported.ReceivedOn is { } day ? new Stay(day, null) : null)),
        }),
        ClaimDecided decided => new(Change(decided.Claim, claim => claim with { Covered = decided.Covered, Lines = decided.Lines, Reason = decided.Reason, DecidedAt = entry.Effective })),
        ClaimStayRecorded stay => new(Change(stay.Claim, claim => claim with { Stay = new Stay(stay.ReceivedOn, stay.ReturnedOn), ReceivedOn = stay.ReceivedOn })),
        JobClosed => new(this, new Ended(Stage.Closed)),
        _ => new(this),
    };

    private WarrantyBook Change(int number, Func<Claim, Claim> change) =>
        this with { Claims = [.. Claims.Select(claim => claim.Number == number ? change(claim) : claim)] };
}
