using System.Globalization;

namespace Workshop.Core.Sources;

/// <summary>What a paired device speaks for: <c>/devices/&lt;name&gt;/&lt;pairing number&gt;</c>.</summary>
public static class DeviceSource
{
    private const string Prefix = "/devices/";

    public static string Of(string device, long number) => string.Create(CultureInfo.InvariantCulture, $"{Prefix}{device}/{number}");

    /// <summary>The device's name; null for a source that is no device's.</summary>
    public static string? NameOf(string source) =>
        source.StartsWith(Prefix, StringComparison.Ordinal) && source.LastIndexOf('/') is var last && last > Prefix.Length ? source[Prefix.Length..last] : null;

    /// <summary>The pairing number; 0 where the last part is no number, as a key made by hand may have it.</summary>
    public static long NumberOf(string source) =>
        long.TryParse(source[(source.LastIndexOf('/') + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0;
}
