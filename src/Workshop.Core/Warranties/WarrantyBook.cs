using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Core.Takedown;
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

    /// <summary>The job under which the watch came back for it; null while it has not.</summary>
    public Label? Job { get; init; }

    /// <summary>When the watch came for it, where its intake says so; a day that was told has no moment.</summary>
    public Instant? ReceivedAt { get; init; }

    public bool InDoubt { get; init; }

    public WatchSystem? System { get; init; }

    /// <summary>Null until it is covered.</summary>
    public Comeback? Comeback { get; init; }

    /// <summary>The evidence the decision rests on.</summary>
    public ImmutableArray<string> Because { get; init; } = [];

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

    /// <summary>How that day is known; null without one.</summary>
    public DeliveryBasis? DeliveredBy { get; init; }

    /// <summary>The day of delivery that the warranty runs from, and how sure it is; null for a watch that was not sent, and for work without a warranty.</summary>
    public (LocalDate On, DeliveryBasis Basis)? Delivery =>
        How != HandedOverHow.Dispatched || Lines is not [var line, ..] ? null
        : (line.StartsOn, DeliveredOn == line.StartsOn && DeliveredBy is { } basis ? basis : DeliveryBasis.Presumed);

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
        DeliveryRecorded recorded => new(Deliver(recorded)),
        ClaimReported reported => new(this with
        {
            Claims = Claims.Add(new(reported.Claim, reported.ReportedOn, entry.Effective, null, null, null, null, reported.ReceivedOn is { } day ? new ClaimStay(day, null) : null)),
        }),
        ClaimDecided decided => new(Change(decided.Claim, claim => claim with
        {
            Covered = decided.Covered,
            Lines = decided.Lines,
            Reason = decided.Reason,
            Goodwill = decided.Goodwill,
            DecidedAt = entry.Effective,
            InDoubt = decided.InDoubt == true,
            System = decided.System,
            Comeback = decided.Comeback,
            Because = decided.Because ?? [],
        })),
        ClaimStayRecorded stay => new(Change(stay.Claim, claim => claim with
        {
            Stay = new ClaimStay(stay.ReceivedOn, stay.ReturnedOn),
            Job = stay.Job ?? claim.Job,
            ReceivedAt = stay is { Job: not null, ReturnedOn: null } ? entry.Effective : stay.ReceivedOn == claim.ReceivedOn ? claim.ReceivedAt : null,
        })),
        JobClosed => new(this, new Ended(Stage.Closed)),
        _ => new(this),
    };

    // The later day counts; of one and the same day, the surer word for it.
    private WarrantyBook Deliver(DeliveryRecorded recorded)
    {
        var basis = recorded.How is DeliveryProof.Carrier or DeliveryProof.Signature ? DeliveryBasis.Proven : DeliveryBasis.Said;
        return DeliveredOn is { } known && (recorded.On < known || (recorded.On == known && DeliveredBy <= basis)) ? this
            : this with { DeliveredOn = recorded.On, DeliveredBy = basis };
    }

    private WarrantyBook Change(int number, Func<Claim, Claim> change) =>
        this with { Claims = [.. Claims.Select(claim => claim.Number == number ? change(claim) : claim)] };
}
