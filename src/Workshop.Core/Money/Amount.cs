using System.Globalization;

namespace Workshop.Core.Money;

/// <summary>An amount as it is said: major units and the currency's letters, with a point and no groups.</summary>
public static class Amount
{
    /// <summary>Places behind the point by ISO 4217, list one; two where a currency is not named here.</summary>
    private static int PlacesOf(string currency) => currency switch
    {
        "BIF" or "CLP" or "DJF" or "GNF" or "ISK" or "JPY" or "KMF" or "KRW" or "PYG" or "RWF" or "UGX" or "UYI" or "VND" or "VUV" or "XAF" or "XOF" or "XPF" => 0,
        "BHD" or "IQD" or "JOD" or "KWD" or "LYD" or "OMR" or "TND" => 3,
        _ => 2,
    };

    /// <param name="minor">Minor units.</param>
    /// <param name="currency">ISO 4217; without one the minor units stand alone.</param>
    public static string Said(long minor, string? currency)
    {
        if (currency is null)
        {
            return minor.ToString(CultureInfo.InvariantCulture);
        }

        var places = PlacesOf(currency);
        var major = (decimal)minor;
        for (var i = 0; i < places; i++)
        {
            major /= 10;
        }

        return $"{major.ToString($"F{places}", CultureInfo.InvariantCulture)} {currency}";
    }
}
