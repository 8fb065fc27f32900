using System.Globalization;
using System.Text.RegularExpressions;
using NodaTime;
using NodaTime.Text;

namespace Workshop.Service.Http.CloudEvents;

/// <summary>
/// Reads the times of RFC 3339, section 5.6, in full: lower-case letters, any number of decimals, the unknown offset
/// <c>-00:00</c> and a leap second, which is read as the last moment before it.
/// </summary>
public static partial class Rfc3339
{
    private const int DecimalsKept = 9;

    /// <summary>The moment with its offset, or null where the text is no such time.</summary>
    public static OffsetDateTime? Read(string text)
    {
        if (Form().Match(text) is not { Success: true } match)
        {
            return null;
        }

        var seconds = match.Groups["seconds"].Value;
        var decimals = match.Groups["decimals"].Value;
        if (seconds == "60")
        {
            (seconds, decimals) = ("59", new string('9', DecimalsKept));
        }

        var offset = match.Groups["offset"].Value.ToUpperInvariant();
        var read = OffsetDateTimePattern.Rfc3339.Parse(string.Create(CultureInfo.InvariantCulture,
            $"{match.Groups["date"].Value}T{match.Groups["minutes"].Value}:{seconds}.{decimals[..Math.Min(decimals.Length, DecimalsKept)].PadRight(1, '0')}{(offset == "-00:00" ? "Z" : offset)}"));
        return read.Success ? read.Value : null;
    }

    [GeneratedRegex(@"\A(?<date>[0-9]{4}-[0-9]{2}-[0-9]{2})[Tt](?<minutes>([01][0-9]|2[0-3]):[0-5][0-9]):(?<seconds>[0-9]{2})(\.(?<decimals>[0-9]+))?(?<offset>[Zz]|[+-][0-9]{2}:[0-9]{2})\z", RegexOptions.ExplicitCapture)]
    private static partial Regex Form();
}
