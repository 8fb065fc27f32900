using System.Collections.Immutable;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Parties;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Customers;

/// <summary>A customer, for those who may see names.</summary>
public sealed record CustomerView
{
    public required string Id { get; init; }

    public string? Name { get; init; }

    /// <summary>As it was said.</summary>
    public string? Telephone { get; init; }

    /// <summary>E.164, where the number could be understood.</summary>
    public string? TelephoneInternational { get; init; }

    public string? Email { get; init; }

    public string? Address { get; init; }

    /// <summary>Addresses with the day from which each holds.</summary>
    public ImmutableArray<CustomerAddress> Addresses { get; init; } = [];

    /// <summary>BCP 47.</summary>
    public string? Language { get; init; }

    public ImmutableArray<CustomerConsent> Consents { get; init; } = [];

    public ContactRule Contact { get; init; } = ContactRule.Normal;

    /// <summary>With <c>only-by</c>: the one way.</summary>
    public ConsentChannel? ContactBy { get; init; }

    public LocalDate? DeceasedOn { get; init; }

    /// <summary>Ways by which something came back; nothing goes out by them.</summary>
    public ImmutableArray<PartyWay> Unreachable { get; init; } = [];

    public required Instant Since { get; init; }

    public required long Version { get; init; }

    public static CustomerView Of(StoredCustomer stored) => new()
    {
        Id = stored.Id,
        Name = stored.Name.Length == 0 ? null : stored.Name,
        Telephone = stored.Telephone,
        TelephoneInternational = stored.TelephoneNormalised is ['+', ..] ? stored.TelephoneNormalised : null,
        Email = stored.Email,
        Address = stored.Address,
        Addresses = stored.ReadAddresses(),
        Language = stored.Language,
        Consents = stored.ReadConsents(),
        Contact = Word.Read<ContactRule>(stored.Contact) ?? ContactRule.Normal,
        ContactBy = stored.ContactBy is { } by ? Word.Read<ConsentChannel>(by) : null,
        DeceasedOn = stored.DeceasedOn is { } day ? LocalDatePattern.Iso.Parse(day).Value : null,
        Unreachable = stored.ReadUnreachable(),
        Since = Microseconds.Read(stored.Created),
        Version = stored.Version,
    };
}
