using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Core.Warranties;

/// <summary>A fault reported under warranty, and what became of it.</summary>
/// <param name="Lines">The warranty lines the decision is about; null for all.</param>
public sealed record Claim(
    int Number, LocalDate ReportedOn, Instant ReportedAt, bool? Covered, ImmutableArray<string>? Lines, string? Reason, Instant? DecidedAt, ClaimStay? Stay)
{
    public LocalDate? ReceivedOn => Stay?.ReceivedOn;

    /// <summary>What was put right free of charge although it is not covered.</summary>
    public string? Goodwill { get; init; }

    /// <summary>What the warranty's days depend on in it.</summary>
    public WarrantyClaim ForTheLines() => new() { Number = Number, ReportedOn = ReportedOn, Covered = Covered, Goodwill = Goodwill, Lines = Lines, Stays = Stay is { } stay ? [stay] : [] };
}

public sealed record WarrantyBook
{
    /// <summary>The lines that began at hand-over.</summary>
    public ImmutableArray<WarrantyTerm> Terms { get; init; } = [];

    public ImmutableArray<Claim> Claims { get; init; } = [];

    public LocalDate? HandedOverOn { get; init; }

    /// <summary>How the last piece left.</summary>
    public HandedOverHow? How { get; init; }

    /// <summary>The latest day on which a parcel was proven to be delivered.</summary>
    public LocalDate? DeliveredOn { get; init; }

    /// <summary>The lines as they stand, with what claims added.</summary>
    public ImmutableArray<WarrantyLine> Lines => WarrantyArithmetic.Lines(
        Terms, [.. Claims.Select(claim => claim.ForTheLines())], DeliveredOn);

    /// <summary>Elapsed time after receipt within which a claim is to be decided, by the strictest of the lines; null without one.</summary>
    public Duration? DecideWithin => Terms.IsEmpty ? null : Terms.Min(term => term.CountedBy.Claim.DecideWithin);

    /// <summary>What is done free of charge although no warranty covers it, by any of the lines.</summary>
    public IEnumerable<string> Goodwill => Terms.SelectMany(term => term.CountedBy.Goodwill).Distinct(StringComparer.Ordinal);

    /// <summary>The sentence that is said with the days: the shop's own, where it has one.</summary>
    public string SentenceIn(Language language) => (Terms.IsEmpty ? WarrantyRuleSet.ShopDefault : Terms[0].CountedBy).SentenceIn(language);

    public Heard<WarrantyBook> Apply(Entry entry) => entry.Event switch
    {
        // Only the hand-over of the last piece carries terms: the warranty begins with it.
        JobHandedOver over when entry.Judged.Warranty is { } terms => new(this with { HandedOverOn = over.On, How = over.How, Terms = terms }),

        // A day that was promised is never taken back by an earlier proof.
        DeliveryRecorded recorded => new(this with { DeliveredOn = DeliveredOn is { } known ? LocalDate.Max(known, recorded.On) : recorded.On }),
        ClaimReported reported => new(this with
        {
            Claims = Claims.Add(new(reported.Claim, reported.ReportedOn, entry.Effective, null, null, null, null, reported.ReceivedOn is { } day ? new ClaimStay(day, null) : null)),
        }),
        ClaimDecided decided => new(Change(decided.Claim, claim => claim with { Covered = decided.Covered, Lines = decided.Lines, Reason = decided.Reason, Goodwill = decided.Goodwill, DecidedAt = entry.Effective })),
        ClaimStayRecorded stay => new(Change(stay.Claim, claim => claim with { Stay = new ClaimStay(stay.ReceivedOn, stay.ReturnedOn) })),
        JobClosed => new(this, new Ended(Stage.Closed)),
        _ => new(this),
    };

    private WarrantyBook Change(int number, Func<Claim, Claim> change) =>
        this with { Claims = [.. Claims.Select(claim => claim.Number == number ? change(claim) : claim)] };
}
