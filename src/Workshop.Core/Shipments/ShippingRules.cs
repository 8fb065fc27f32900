using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;
using Workshop.Core.Money;

namespace Workshop.Core.Shipments;

/// <summary>A carrier, and what it insures at most.</summary>
public sealed record Carrier
{
    [RegularExpression("[a-z0-9][a-z0-9-]{0,39}")]
    public required string Id { get; init; }

    [StringLength(100, MinimumLength = 1)]
    public required string Name { get; init; }

    /// <summary>The most it insures one parcel for, minor units; not known where left out.</summary>
    [Range(0, MoneyBook.MinorAtMost)]
    public long? InsuresAtMostMinor { get; init; }

    /// <summary>ISO 4217, together with <see cref="InsuresAtMostMinor"/>.</summary>
    [RegularExpression("[A-Z]{3}")]
    public string? Currency { get; init; }
}

/// <summary>How parcels go. JSON member of the rules document: <c>shipping</c>.</summary>
public sealed record ShippingRules
{
    public static readonly ShippingRules Usual = new();

    /// <summary>Carriers the shop knows; any other name may be told, without a limit.</summary>
    [Length(0, 50)]
    public ImmutableArray<Carrier> Carriers { get; init; } = [];

    public Carrier? Find(string named) => Carriers.FirstOrDefault(one => one.Id == named);

    /// <param name="pointer">Where these rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        foreach (var (i, one) in Carriers.Index())
        {
            if (Carriers.Take(i).Any(before => before.Id == one.Id))
            {
                yield return new Fault($"{pointer}/carriers/{i}/id", $"The carrier '{one.Id}' is there twice");
            }

            if (one.InsuresAtMostMinor is null != one.Currency is null)
            {
                yield return new Fault($"{pointer}/carriers/{i}/currency", "What a carrier insures has its currency, and a currency its amount");
            }
        }
    }
}
