using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Route;

namespace Workshop.Core.Intake;

/// <summary>What the intake left behind for the rules: who, which watch, which kind of work, and what is still not known.</summary>
public sealed record IntakeRecord
{
    public string Variant { get; init; } = "";

    public string Customer { get; init; } = "";

    public string Watch { get; init; } = "";

    public Instant? TakenInAt { get; init; }

    public ImmutableArray<MissingMember> Missing { get; init; } = [];

    /// <summary>When members that had been missing came.</summary>
    public ImmutableSortedDictionary<string, Instant> CameAt { get; init; } = ImmutableSortedDictionary<string, Instant>.Empty;

    public ImmutableArray<string> Hazards { get; init; } = [];

    public LocalDate? FixedDate { get; init; }

    /// <summary>The job whose warranty this one is about.</summary>
    public Label? WarrantyOf { get; init; }

    /// <summary>Null where nobody asked, and in jobs that were taken in before it was kept here.</summary>
    public PolishWish? Polish { get; init; }

    /// <summary>When the customer said yes again; a wish that changes is asked about anew.</summary>
    public Instant? PolishConfirmedAt { get; init; }

    /// <summary>The job came from the paper book midway.</summary>
    public Adopted? Adopted { get; init; }

    /// <summary>The order of a storefront that it came under.</summary>
    public OrderedAs? Ordered { get; init; }

    public bool TakenIn => TakenInAt is not null;

    public Heard<IntakeRecord> Apply(Entry entry) => entry.Event switch
    {
        JobTakenIn taken => new(
            new IntakeRecord
            {
                Variant = taken.Variant,
                Customer = taken.Customer,
                Watch = taken.Watch,
                TakenInAt = entry.Effective,
                Missing = taken.Missing,
                Hazards = taken.Hazards,
                FixedDate = taken.FixedDate,
                WarrantyOf = taken.WarrantyOf,
                Polish = taken.Polish,
                Adopted = taken.Adopted,
                Ordered = taken.Ordered,
            },
            taken.Adopted is { } adopted ? new WasBefore(adopted.At) : new Ended(Stage.Intake)),
        VariantChanged changed => new(this with { Variant = changed.Variant, Missing = changed.Missing, Hazards = [.. Hazards.Union(changed.Hazards)] }),
        IntakeCompleted completed => new(Complete(completed, entry)),
        PolishConfirmed => new(this with
        {
            PolishConfirmedAt = entry.Effective,
            Missing = Missing.RemoveAll(one => one.Member == IntakeMember.PolishConfirmed),
        }),
        _ => new(this),
    };

    private IntakeRecord Complete(IntakeCompleted completed, Entry entry)
    {
        var asksAnew = completed.Polish is not null && completed.Polish != Polish;
        var missing = Missing.RemoveAll(one => completed.Known.Contains(one.Member) || (asksAnew && one.Member == IntakeMember.PolishConfirmed));
        return this with
        {
            Missing = missing.AddRange(completed.Missing.Where(added => missing.All(one => one.Member != added.Member))),
            CameAt = CameAt.SetItems(Missing.Where(one => completed.Known.Contains(one.Member)).Select(one => KeyValuePair.Create(one.Member, entry.Effective))),
            Polish = completed.Polish ?? Polish,
            PolishConfirmedAt = asksAnew ? null : PolishConfirmedAt,
            FixedDate = completed.FixedDateGone == true ? null : completed.FixedDate ?? FixedDate,
        };
    }
}
