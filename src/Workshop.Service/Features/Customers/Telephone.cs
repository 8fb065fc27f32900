using System.Collections.Immutable;
using PhoneNumbers;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Customers;

/// <summary>Telephone numbers as they are kept beside what was typed, and as they are compared.</summary>
public static class Telephone
{
    private const int DigitsAtLeast = 3;

    /// <summary>Where no country is set, none: a national number is then a number of no country.</summary>
    private const string NoCountry = "ZZ";

    /// <summary>
    /// In international form (E.164, with a +) where the number can be one of its country by its length; else the digits alone, without
    /// leading zeros: they are then the end of the same number with its country before it.
    /// </summary>
    /// <param name="country">ISO 3166-1, of national numbers; null: only what begins with + is brought into international form.</param>
    /// <returns>null for a text with too few digits to be a number.</returns>
    public static string? Normalised(string? typed, string? country) => International(typed, country) ?? Digits(typed);

    /// <summary>E.164, or null where it is not known to be one.</summary>
    public static string? International(string? typed, string? country)
    {
        if (Digits(typed) is null)
        {
            return null;
        }

        try
        {
            var util = PhoneNumberUtil.GetInstance();
            var number = util.Parse(typed, country ?? NoCountry);

            // By its length alone: new ranges are given out faster than lists of valid ones.
            return util.IsPossibleNumber(number) ? util.Format(number, PhoneNumberFormat.E164) : null;
        }
        catch (NumberParseException)
        {
            return null;
        }
    }

    /// <summary>What somebody says at the counter, from its last digit to its first, in every form it may have been kept in.</summary>
    /// <remarks>Last digits may begin with zeros, which a whole national number is compared without.</remarks>
    public static ImmutableArray<string> Sought(string? typed, string? country) =>
        [
            .. new[] { GramTable.Reversed(Digits(typed)), GramTable.Reversed(International(typed, country)), GramTable.Reversed(typed) }
                .OfType<string>().Where(digits => digits.Length >= DigitsAtLeast).Distinct(StringComparer.Ordinal),
        ];

    private static string? Digits(string? typed)
    {
        // A zero in brackets is dialled within the country only: +41 (0)44 … is 41 44 …
        var digits = string.Concat((typed ?? "").Replace("(0)", "").Where(char.IsAsciiDigit)).TrimStart('0');
        return digits.Length >= DigitsAtLeast ? digits : null;
    }
}
