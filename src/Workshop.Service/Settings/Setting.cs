using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Net;
using NodaTime;
using NodaTime.Text;

namespace Workshop.Service.Settings;

/// <summary>
/// One thing that the operator of the machine may set: in <c>appsettings.json</c>, as an environment variable
/// (<c>Events__LiveWithin</c>) or on the command line (<c>--set Events:LiveWithin=PT2M</c>).
/// </summary>
/// <param name="Name">Section and name, for example <c>Events:LiveWithin</c>.</param>
/// <param name="Meaning">What it is for, with its unit.</param>
/// <param name="Default">What holds where nothing is set, as it would be written; empty where there is no default.</param>
/// <param name="Allowed">What may be set, in words that end a sentence.</param>
public abstract record Setting(string Name, string Meaning, string Default, string Allowed)
{
    /// <summary>A secret's value is repeated nowhere.</summary>
    public bool Secret { get; init; }

    /// <summary>Whether this text would be taken.</summary>
    public abstract bool Takes(string text);

    /// <exception cref="SettingException">The text is not allowed.</exception>
    protected SettingException Refuse(string text) => new(
        Secret ? $"{Name} cannot be used as it is set (not shown here: it may hold a password); it must be {Allowed}."
        : $"{Name} is '{text}', but must be {Allowed}.");
}

/// <summary>A setting of one type.</summary>
public sealed record Setting<T>(string Name, string Meaning, string Default, string Allowed, Setting<T>.Reading Parse)
    : Setting(Name, Meaning, Default, Allowed)
{
    /// <summary>Reads a text; false when it is not allowed.</summary>
    public delegate bool Reading(string text, [MaybeNullWhen(false)] out T value);

    public override bool Takes(string text) => Parse(text, out _);

    /// <summary>What is set, or the default.</summary>
    /// <exception cref="SettingException">What is set is not allowed; the message is the sentence to show.</exception>
    public T Read(IConfiguration configuration)
    {
        var text = configuration[Name] is { Length: > 0 } set ? set.Trim() : Default;
        return Parse(text, out var value) ? value : throw Refuse(text);
    }
}

/// <summary>The start is refused; the message is one sentence for whoever operates the machine.</summary>
public sealed class SettingException(string sentence) : Exception(sentence);

/// <summary>The kinds of settings there are.</summary>
internal static class SettingKinds
{
    public static Setting<int> Number(string name, int usual, int least, int most, string meaning, string unit = "") => new(
        name, meaning, Written(usual), $"a whole number from {Written(least)} to {Written(most)}{(unit == "" ? "" : " " + unit)}",
        (string text, out int value) =>
            int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out value) && value >= least && value <= most);

    /// <summary>A span of elapsed time in the notation of ISO 8601, without years, months and weeks.</summary>
    public static Setting<Duration> Span(string name, Duration usual, Duration least, Duration most, string meaning) => new(
        name, meaning, Written(usual), $"a duration from {Written(least)} to {Written(most)}",
        (string text, out Duration value) => ReadSpan(text, out value) && value >= least && value <= most);

    public static Setting<string> OneOf(string name, string usual, string[] words, string meaning) => new(
        name, meaning, usual, $"one of: {string.Join(", ", words)}",
        (string text, [MaybeNullWhen(false)] out string value) =>
        {
            value = words.FirstOrDefault(word => word.Equals(text, StringComparison.OrdinalIgnoreCase));
            return value is not null;
        });

    public static Setting<string> Text(string name, string usual, int lengthAtMost, string meaning) => new(
        name, meaning, usual, $"a text of 1 to {Written(lengthAtMost)} characters",
        (string text, [MaybeNullWhen(false)] out string value) =>
        {
            value = text;
            return text.Length >= 1 && text.Length <= lengthAtMost && !text.Any(char.IsControl);
        });

    public static Setting<string> TextOrNone(string name, int lengthAtMost, string meaning) => new(
        name, meaning, "", $"a text of at most {Written(lengthAtMost)} characters",
        (string text, [MaybeNullWhen(false)] out string value) =>
        {
            value = text;
            return text.Length <= lengthAtMost && !text.Any(char.IsControl);
        });

    public static Setting<string> Folder(string name, string usual, string meaning) => new(
        name, meaning, usual, "the path of a folder",
        (string text, [MaybeNullWhen(false)] out string value) =>
        {
            var usable = text.Length > 0 && !text.Any(char.IsControl) && !File.Exists(text);
            value = usable ? Path.GetFullPath(text) : null;
            return usable;
        });

    public static Setting<string> FolderOrNone(string name, string meaning) => new(
        name, meaning, "", "the path of a folder, or nothing",
        (string text, [MaybeNullWhen(false)] out string value) =>
        {
            var usable = !text.Any(char.IsControl) && !File.Exists(text);
            value = !usable ? null : text.Length == 0 ? "" : Path.GetFullPath(text);
            return usable;
        });

    public static Setting<IPAddress> Address(string name, string usual, string meaning) => new(
        name, meaning, usual, "an IP address such as 127.0.0.1, or 0.0.0.0 for every address of this machine",
        (string text, [MaybeNullWhen(false)] out IPAddress value) => IPAddress.TryParse(text, out value) && HasFourParts(text, value));

    public static Setting<DateTimeZone> TimeZone(string name, string usual, string meaning) => new(
        name, meaning, usual, "a time zone of the IANA list such as Europe/Zurich",
        (string text, [MaybeNullWhen(false)] out DateTimeZone value) =>
        {
            value = DateTimeZoneProviders.Tzdb.Ids.Contains(text) ? DateTimeZoneProviders.Tzdb[text] : null;
            return value is not null;
        });

    public static string Written(Duration span) => PeriodPattern.NormalizingIso.Format(Period.FromTicks((long)span.TotalTicks));

    private static string Written(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static bool ReadSpan(string text, out Duration span)
    {
        span = Duration.Zero;
        var read = PeriodPattern.NormalizingIso.Parse(text);
        if (!read.Success || read.Value is not { Years: 0, Months: 0, Weeks: 0 })
        {
            return false;
        }

        span = read.Value.ToDuration();
        return true;
    }

    // "5080" would be read as the address 0.0.19.216.
    private static bool HasFourParts(string text, IPAddress address) =>
        address.AddressFamily == System.Net.Sockets.AddressFamily.InterNetworkV6 || text.Count(letter => letter == '.') == 3;
}
