using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Parties;

namespace Workshop.Service.Features.Customers;

/// <summary>An address and the day from which it holds.</summary>
public sealed record CustomerAddress
{
    [StringLength(1000, MinimumLength = 1)]
    public required string Address { get; init; }

    public required LocalDate ValidFrom { get; init; }
}

/// <summary>Who somebody is and how to reach them. Kept in a table of its own; entries of the journal name the customer by id.</summary>
public sealed record CustomerDetails
{
    [StringLength(200)]
    public string? Name { get; init; }

    /// <summary>As it was said; numbers are compared by their digits.</summary>
    [StringLength(50)]
    public string? Telephone { get; init; }

    [StringLength(254)]
    [RegularExpression(@"[^@\s]+@[^@\s]+")]
    public string? Email { get; init; }

    [StringLength(1000)]
    public string? Address { get; init; }

    /// <summary>Where they live from which day on, for somebody who moves house; before the first of them the address without a day holds.</summary>
    [Length(0, 20)]
    public ImmutableArray<CustomerAddress> Addresses { get; init; } = [];

    /// <summary>BCP 47, for example <c>en</c> or <c>de-CH</c>.</summary>
    [StringLength(35)]
    [RegularExpression("[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*")]
    public string? Language { get; init; }

    /// <summary>What somebody allowed; one for each kind.</summary>
    [Length(0, 2)]
    public ImmutableArray<CustomerConsent> Consents { get; init; } = [];

    public ContactRule Contact { get; init; } = ContactRule.Normal;

    /// <summary>With <c>only-by</c>: the one way.</summary>
    public ConsentChannel? ContactBy { get; init; }

    public LocalDate? DeceasedOn { get; init; }

    /// <summary>
    /// Ways by which something came back; nothing goes out by them. Left out, those stay whose number or address is still the same.
    /// </summary>
    [Length(0, 3)]
    public ImmutableArray<PartyWay>? Unreachable { get; init; }

    /// <summary>What is missing to reach anybody, a number without digits, or a consent that contradicts itself.</summary>
    /// <param name="pointer">Where the details stand in the body.</param>
    public IEnumerable<Fault> Faults(string pointer, LocalDate today)
    {
        foreach (var (i, one) in Consents.Index())
        {
            if (one.Channels.Contains(ConsentChannel.None) && one.Channels.Length > 1)
            {
                yield return new Fault($"{pointer}/consents/{i}/channels", "None stands alone");
            }

            if (one.SaidOn > today)
            {
                yield return new Fault($"{pointer}/consents/{i}/saidOn", $"This day is to come; today is {today:uuuu-MM-dd}");
            }

            if (Consents.Take(i).Any(before => before.Kind == one.Kind))
            {
                yield return new Fault($"{pointer}/consents/{i}/kind", "Each kind is said once");
            }
        }

        foreach (var (i, one) in Addresses.Index())
        {
            if (string.IsNullOrWhiteSpace(one.Address))
            {
                yield return new Fault($"{pointer}/addresses/{i}/address", "An address is more than blanks");
            }

            if (Addresses.Take(i).Any(before => before.ValidFrom == one.ValidFrom))
            {
                yield return new Fault($"{pointer}/addresses/{i}/validFrom", "From one day on one address holds");
            }
        }

        if (Contact == ContactRule.OnlyBy ? ContactBy is null or ConsentChannel.None : ContactBy is not null)
        {
            yield return new Fault($"{pointer}/contactBy", "The one way belongs to 'only-by', and to nothing else");
        }

        if (DeceasedOn > today)
        {
            yield return new Fault($"{pointer}/deceasedOn", $"This day is to come; today is {today:uuuu-MM-dd}");
        }

        if (!Says(Telephone) && !Says(Email) && !Says(Address) && Addresses.IsEmpty)
        {
            yield return new Fault(pointer, "One way to reach somebody is needed: telephone, email or address");
        }

        if (Says(Telephone) && Customers.Telephone.Normalised(Telephone, null) is null)
        {
            yield return new Fault($"{pointer}/telephone", "A telephone number has at least three digits");
        }
    }

    private static bool Says(string? text) => !string.IsNullOrWhiteSpace(text);
}
