using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Service.Features.Customers;

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

    /// <summary>BCP 47, for example <c>en</c> or <c>de-CH</c>.</summary>
    [StringLength(35)]
    [RegularExpression("[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*")]
    public string? Language { get; init; }

    /// <summary>What is missing to reach anybody, or a number without digits.</summary>
    /// <param name="pointer">Where the details stand in the body.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (!Says(Telephone) && !Says(Email) && !Says(Address))
        {
            yield return new Fault(pointer, "One way to reach somebody is needed: telephone, email or address");
        }

        if (Says(Telephone) && Customers.Telephone.Key(Telephone) is null)
        {
            yield return new Fault($"{pointer}/telephone", "A telephone number has at least three digits");
        }
    }

    private static bool Says(string? text) => !string.IsNullOrWhiteSpace(text);
}
