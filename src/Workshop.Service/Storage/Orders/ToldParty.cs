using System.ComponentModel.DataAnnotations;

namespace Workshop.Service.Storage.Orders;

/// <summary>A person or firm as a storefront tells of one; whole, what is left out is not known.</summary>
public record ToldParty
{
    [StringLength(200)]
    public string? Name { get; init; }

    [StringLength(254)]
    public string? Email { get; init; }

    [StringLength(50)]
    public string? Telephone { get; init; }

    /// <summary>As it is written on a letter, lines parted by line breaks.</summary>
    [StringLength(1000)]
    public string? Address { get; init; }

    /// <summary>BCP 47.</summary>
    [StringLength(35)]
    public string? Language { get; init; }
}
