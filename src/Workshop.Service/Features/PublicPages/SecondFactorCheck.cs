using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Workshop.Core.PublicPage;
using Workshop.Service.Features.Customers;

namespace Workshop.Service.Features.PublicPages;

/// <summary>
/// Whether somebody who writes from a page knows what its customer knows: the postcode of their address or the last four digits of their
/// telephone number. No digit of any serial is asked for, since none is shown.
/// </summary>
/// <remarks>
/// Addresses are written as people write them: a postcode is found in one where its letters and digits stand together, whatever blanks and
/// hyphens are between them. A candidate has at least four of them, two of which are digits, so that no single house number of one street
/// opens a page.
/// </remarks>
public static class SecondFactorCheck
{
    private const int LastDigits = 4;
    private const int PostcodeAtLeast = 4;
    private const int PostcodeAtMost = 10;

    /// <summary>Takes the same way whether it holds or not: every candidate is compared, in full.</summary>
    /// <param name="customers">Those round the watch whose word counts here.</param>
    public static bool Holds(string told, IEnumerable<StoredCustomer> customers, SecondFactor asked)
    {
        var (said, bare) = (Digest(Plain(told)), Digest(WithoutCountry(told)));
        var holds = false;
        foreach (var candidate in customers.SelectMany(customer => Candidates(customer, asked)))
        {
            var kept = Digest(candidate);
            holds |= CryptographicOperations.FixedTimeEquals(said, kept) | CryptographicOperations.FixedTimeEquals(bare, kept);
        }

        return holds;
    }

    /// <summary>Whether anything is known of somebody that could be told.</summary>
    public static bool CanBeTold(IEnumerable<StoredCustomer> customers, SecondFactor asked) => customers.Any(customer => Candidates(customer, asked).Any());

    private static IEnumerable<string> Candidates(StoredCustomer customer, SecondFactor asked) =>
        (asked == SecondFactor.Telephone ? [] : Postcodes(customer.Address)).Concat(asked == SecondFactor.Postcode ? [] : LastOf(customer.TelephoneNormalised));

    private static IEnumerable<string> Postcodes(string? address)
    {
        var words = (address ?? "").Split((char[])[' ', '\t', '\r', '\n', ',', ';', '-', '/'], StringSplitOptions.RemoveEmptyEntries).Select(Plain).Where(word => word.Length > 0).ToImmutableArray();
        for (var i = 0; i < words.Length; i++)
        {
            // Two words are one postcode where the first has a figure: SW1A 1AA, 1234 AB; never a street and its number.
            foreach (var candidate in i + 1 < words.Length && words[i].Any(char.IsAsciiDigit) ? (string[])[words[i], words[i] + words[i + 1]] : [words[i]])
            {
                if (candidate.Length is >= PostcodeAtLeast and <= PostcodeAtMost && candidate.Count(char.IsAsciiDigit) >= 2)
                {
                    yield return candidate;
                }
            }
        }
    }

    private static IEnumerable<string> LastOf(string? telephone) =>
        telephone is not null && string.Concat(telephone.Where(char.IsAsciiDigit)) is { Length: >= LastDigits } digits ? [digits[^LastDigits..]] : [];

    // D-79098 and A-1010 are written with and without the letters of the country.
    private static string WithoutCountry(string told) => Plain(told) is var plain && plain.TrimStart([.. "ABCDEFGHIJKLMNOPQRSTUVWXYZ"]) is { Length: >= PostcodeAtLeast } figures && figures.All(char.IsAsciiDigit) ? figures : plain;

    private static string Plain(string text) => string.Concat(text.Where(char.IsLetterOrDigit)).ToUpperInvariant();

    private static byte[] Digest(string text) => SHA256.HashData(Encoding.UTF8.GetBytes(text));
}
