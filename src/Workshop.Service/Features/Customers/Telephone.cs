namespace Workshop.Service.Features.Customers;

/// <summary>Telephone numbers as they are compared.</summary>
public static class Telephone
{
    private const int DigitsAtLeast = 3;

    /// <summary>
    /// The digits alone, without leading zeros: what is left of a national number is then the end of the same number with its country
    /// before it, so that either finds the other.
    /// </summary>
    /// <returns>null for a text with too few digits to be a number.</returns>
    public static string? Key(string? typed)
    {
        // A zero in brackets is dialled within the country only: +41 (0)44 … is 41 44 …
        var digits = string.Concat((typed ?? "").Replace("(0)", "").Where(char.IsAsciiDigit)).TrimStart('0');
        return digits.Length >= DigitsAtLeast ? digits : null;
    }
}
