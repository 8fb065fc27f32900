using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Core.PublicPage;

/// <summary>By what a customer shows, beside the address of their page, that it is them.</summary>
public enum SecondFactor
{
    /// <summary>The postcode of their address or the last four digits of their telephone number.</summary>
    Either,
    Postcode,
    Telephone,
}

/// <summary>What the shop decides about the pages of its customers. JSON member of the rules document: <c>publicPages</c>.</summary>
public sealed record PublicRules
{
    private const string Place = "{token}";

    public static PublicRules Usual { get; } = new();

    public SecondFactor SecondFactor { get; init; }

    /// <summary>Wrong tries at the second factor for one page and day; after them only the desk helps. Common practice.</summary>
    [Range(1, 100)]
    public int WrongTriesADay { get; init; } = 5;

    /// <summary>Days within which the shop asks to collect what is ready; nothing is said of it where left out.</summary>
    [Range(1, 3_650)]
    public int? CollectWithinDays { get; init; }

    /// <summary>
    /// Where the shop shows its customers their pages: an address with <c>{token}</c> in it once, where the page's own part goes. Letters hold it
    /// then; they hold none where it is left out.
    /// </summary>
    [StringLength(500, MinimumLength = 1)]
    public string? Address { get; init; }

    /// <summary>Where one page is shown.</summary>
    /// <param name="token">What stands for the page's own part; of letters, digits, <c>-</c> and <c>_</c>.</param>
    /// <returns>null: the shop has said no address.</returns>
    public string? AddressOf(string token) => Address?.Replace(Place, token, StringComparison.Ordinal);

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (Address is not { } address)
        {
            yield break;
        }

        if (address.Split(Place).Length != 2)
        {
            yield return new Fault($"{pointer}/address", "The place {token} stands in it once: there each page's own part goes");
        }
        else if (!Uri.TryCreate(AddressOf("x"), UriKind.Absolute, out var read) || address.Any(sign => char.IsWhiteSpace(sign) || char.IsControl(sign) || sign is '<' or '>' or '"'))
        {
            yield return new Fault($"{pointer}/address", "This is no address: it begins with https:// and has no blanks in it");
        }
        else if (read.Scheme != Uri.UriSchemeHttps && !(read.Scheme == Uri.UriSchemeHttp && read.IsLoopback))
        {
            yield return new Fault($"{pointer}/address", "It begins with https://, so that nobody reads along; http:// is for this machine alone");
        }
        else if (read.UserInfo.Length > 0 || address.IndexOf(Place, StringComparison.Ordinal) < address.IndexOf('/', read.Scheme.Length + "://".Length))
        {
            yield return new Fault($"{pointer}/address", "The place {token} comes after the name of the machine, and there is no user in an address");
        }
    }
}
