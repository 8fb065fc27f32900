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

    public ImmutableArray<string> Hazards { get; init; } = [];

    public LocalDate? FixedDate { get; init; }

    /// <summary>The job whose warranty this one is about.</summary>
    public Label? WarrantyOf { get; init; }

    /// <summary>The job came from the paper book midway.</summary>
    public Adopted? Adopted { get; init; }

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
                Adopted = taken.Adopted,
            },
            taken.Adopted is { } adopted ? new WasBefore(adopted.At) : new Ended(Stage.Intake)),
        VariantChanged changed => new(this with { Variant = changed.Variant, Missing = changed.Missing, Hazards = [.. Hazards.Union(changed.Hazards)] }),
        IntakeCompleted completed => new(this with { Missing = Missing.RemoveAll(one => completed.Known.Contains(one.Member)) }),
        _ => new(this),
    };
}
