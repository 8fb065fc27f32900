using NodaTime;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Customers;

/// <summary>A customer, for those who may see names.</summary>
public sealed record CustomerView
{
    public required string Id { get; init; }

    public string? Name { get; init; }

    public string? Telephone { get; init; }

    public string? Email { get; init; }

    public string? Address { get; init; }

    /// <summary>BCP 47.</summary>
    public string? Language { get; init; }

    public required Instant Since { get; init; }

    public required long Version { get; init; }

    public static CustomerView Of(StoredCustomer stored) => new()
    {
        Id = stored.Id,
        Name = stored.Name.Length == 0 ? null : stored.Name,
        Telephone = stored.Telephone,
        Email = stored.Email,
        Address = stored.Address,
        Language = stored.Language,
        Since = Microseconds.Read(stored.Created),
        Version = stored.Version,
    };
}
