using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage.Shop;

/// <summary>A filling of a jar. It grows old by days from its first filling, which never begin anew.</summary>
public sealed record FluidBatchDocument : IShopDocument
{
    public string? Id { get; init; }

    /// <summary>What it is, for example <c>ammoniated</c>.</summary>
    [StringLength(60, MinimumLength = 1)]
    public required string Fluid { get; init; }

    [StringLength(60)]
    public string? Machine { get; init; }

    /// <summary>The jar it stands in, for example <c>clean</c> or <c>rinse-1</c>: its days go by it.</summary>
    [StringLength(60, MinimumLength = 1)]
    public required string Jar { get; init; }

    public required LocalDate FilledOn { get; init; }

    /// <summary>It is no longer in use since then.</summary>
    public LocalDate? DiscardedOn { get; init; }

    /// <summary>The label stuck on the jar.</summary>
    [StringLength(20)]
    public string? Label { get; init; }

    [StringLength(60)]
    public string? Lot { get; init; }

    [Range(0.01, 1_000)]
    public decimal? Litres { get; init; }

    [StringLength(1_000)]
    public string? Remark { get; init; }

    string? IShopDocument.OnLabel => Label;

    public IEnumerable<Fault> Faults(DocumentCheck check)
    {
        if (FilledOn > check.Today)
        {
            yield return new Fault("/filledOn", $"This day is to come; today is {check.Today:uuuu-MM-dd}");
        }

        if (DiscardedOn < FilledOn)
        {
            yield return new Fault("/discardedOn", "This is before it was filled");
        }
        else if (DiscardedOn > check.Today)
        {
            yield return new Fault("/discardedOn", $"This day is to come; today is {check.Today:uuuu-MM-dd}");
        }
    }
}
