using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage.Shop;

/// <summary>How the shop presents itself: what customers and letters are told of it. Figures of the trade are rules.</summary>
public sealed record SettingsDocument : IShopDocument
{
    [StringLength(200, MinimumLength = 1)]
    public string? ShopName { get; init; }

    [StringLength(1_000)]
    public string? Address { get; init; }

    [StringLength(50)]
    public string? Telephone { get; init; }

    [StringLength(254)]
    [RegularExpression(@"[^@\s]+@[^@\s]+")]
    public string? Email { get; init; }

    /// <summary>ISO 3166-1, two letters; national telephone numbers are read as those of this country.</summary>
    [RegularExpression("[A-Z]{2}")]
    public string? Country { get; init; }

    /// <summary>ISO 4217: the currency of quotes that name none.</summary>
    [RegularExpression("[A-Z]{3}")]
    public string? Currency { get; init; }

    /// <summary>Languages the house speaks, the usual one first: <c>en</c>, <c>de</c>.</summary>
    [Length(0, 10)]
    public ImmutableArray<string> Languages { get; init; } = [];

    public IEnumerable<Fault> Faults(DocumentCheck check)
    {
        for (var i = 0; i < Languages.Length; i++)
        {
            if (Languages[i] is not ("en" or "de"))
            {
                yield return new Fault($"/languages/{i}", "The service speaks en and de");
            }
            else if (Languages.IndexOf(Languages[i]) < i)
            {
                yield return new Fault($"/languages/{i}", "This language is there twice");
            }
        }
    }
}
