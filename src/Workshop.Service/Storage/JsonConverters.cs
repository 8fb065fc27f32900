using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.RegularExpressions;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Service.Storage;

/// <summary>A value that is written as one text, also where it is the name of a member.</summary>
internal abstract class TextConverter<T> : JsonConverter<T> where T : notnull
{
    public override bool HandleNull => false;

    public override T Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options) =>
        reader.TokenType == JsonTokenType.String
            ? Read(reader.GetString()!)
            : throw new JsonException($"This is {Wanted}, written as text.");

    public override T ReadAsPropertyName(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options) => Read(reader.GetString()!);

    public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WriteStringValue(Write(value));

    public override void WriteAsPropertyName(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WritePropertyName(Write(value));

    /// <summary>What belongs here, for the sentence of a fault.</summary>
    protected abstract string Wanted { get; }

    /// <exception cref="JsonException">The text is no such value; the message is a sentence for the sender.</exception>
    protected abstract T Read(string text);

    protected abstract string Write(T value);

    protected JsonException NotSo(string text) => new($"'{Shortened(text)}' is not {Wanted}.");

    private static string Shortened(string text) => text.Length <= 60 ? text : $"{text[..60]}…";
}

/// <summary>A member of a closed list by its word.</summary>
internal sealed class WordConverterFactory : JsonConverterFactory
{
    public override bool CanConvert(Type type) => type.IsEnum;

    public override JsonConverter CreateConverter(Type type, JsonSerializerOptions options) =>
        (JsonConverter)Activator.CreateInstance(typeof(WordConverter<>).MakeGenericType(type))!;
}

internal sealed class WordConverter<T> : TextConverter<T> where T : struct, Enum
{
    private static readonly string OneOf = $"one of {string.Join(", ", Word.All<T>().Where(word => !IsNoDay(word)))}";

    protected override string Wanted => OneOf;

    protected override T Read(string text) => IsNoDay(text) ? throw NotSo(text) : Word.Read<T>(text) ?? throw NotSo(text);

    protected override string Write(T value) => Word.Of(value);

    // NodaTime's list of weekdays has a member that is none.
    private static bool IsNoDay(string word) => typeof(T) == typeof(IsoDayOfWeek) && word == "none";
}

internal sealed class LabelConverter : TextConverter<Label>
{
    protected override string Wanted => "a label";

    protected override Label Read(string text) => Label.TryRead(text, out var label) ? label.Value : throw NotSo(text);

    protected override string Write(Label value) => value.ToString();
}

/// <summary>A need as routes spell it: <c>quote</c>, or <c>quote!</c> where no tap goes through.</summary>
internal sealed class NeedConverter : TextConverter<Need>
{
    protected override string Wanted => "a stage, with ! where it cannot be tapped through";

    protected override Need Read(string text)
    {
        var stop = text.EndsWith('!');
        return Word.Read<Stage>(stop ? text[..^1] : text) is { } stage ? new Need(stage, stop) : throw NotSo(text);
    }

    protected override string Write(Need value) => value.Stop ? $"{Word.Of(value.Stage)}!" : Word.Of(value.Stage);
}

/// <summary>A moment; what is finer than a microsecond is cut off, since that is what the database keeps.</summary>
internal sealed class InstantConverter : TextConverter<Instant>
{
    protected override string Wanted => "a moment such as 2026-03-02T10:14:03+01:00";

    protected override Instant Read(string text) =>
        OffsetDateTimePattern.Rfc3339.Parse(text) is { Success: true, Value: var moment } ? Microseconds.Truncated(moment.ToInstant()) : throw NotSo(text);

    protected override string Write(Instant value) => InstantPattern.ExtendedIso.Format(value);
}

internal sealed class LocalTimeConverter : TextConverter<LocalTime>
{
    private static readonly LocalTimePattern Minutes = LocalTimePattern.CreateWithInvariantCulture("HH:mm");
    private static readonly LocalTimePattern Seconds = LocalTimePattern.CreateWithInvariantCulture("HH:mm:ss");

    protected override string Wanted => "a time of day such as 09:00";

    protected override LocalTime Read(string text) =>
        Minutes.Parse(text) is { Success: true, Value: var toTheMinute } ? toTheMinute
        : Seconds.Parse(text) is { Success: true, Value: var toTheSecond } ? toTheSecond
        : throw NotSo(text);

    protected override string Write(LocalTime value) => (value.Second == 0 ? Minutes : Seconds).Format(value);
}

/// <summary>Elapsed time in hours, minutes and seconds: <c>PT39H45M</c>. It has no days, since a day of wear is 24 h whatever the clocks do.</summary>
internal sealed partial class DurationConverter : TextConverter<Duration>
{
    protected override string Wanted => "elapsed time in hours, minutes and seconds such as PT24H";

    protected override Duration Read(string text)
    {
        var parts = Shape().Match(text);
        if (!parts.Success)
        {
            throw NotSo(text);
        }

        var duration = Duration.FromHours(Number(parts.Groups["hours"]))
            + Duration.FromMinutes(Number(parts.Groups["minutes"]))
            + Duration.FromSeconds(Number(parts.Groups["seconds"]))
            + Duration.FromNanoseconds(Number(parts.Groups["fraction"], digits: 9));
        return text[0] == '-' ? -duration : duration;
    }

    protected override string Write(Duration value)
    {
        var length = value < Duration.Zero ? -value : value;
        var text = new StringBuilder(value < Duration.Zero ? "-PT" : "PT");
        var hours = (long)length.TotalHours;
        if (hours > 0)
        {
            text.Append(CultureInfo.InvariantCulture, $"{hours}H");
        }

        if (length.Minutes > 0)
        {
            text.Append(CultureInfo.InvariantCulture, $"{length.Minutes}M");
        }

        if (length.Seconds > 0 || length.SubsecondNanoseconds > 0)
        {
            var seconds = length.Seconds + (length.SubsecondNanoseconds / 1_000_000_000m);
            text.Append(CultureInfo.InvariantCulture, $"{seconds:0.#########}S");
        }
        else if (length < Duration.FromMinutes(1))
        {
            text.Append("0S");
        }

        return text.ToString();
    }

    // Seven digits of hours are a thousand years: what is longer is a slip, and arithmetic stays far from its limits.
    [GeneratedRegex(@"^-?PT(?=[0-9])((?<hours>[0-9]{1,7})H)?((?<minutes>[0-9]{1,9})M)?((?<seconds>[0-9]{1,9})(\.(?<fraction>[0-9]{1,9}))?S)?\z", RegexOptions.CultureInvariant)]
    private static partial Regex Shape();

    private static long Number(System.Text.RegularExpressions.Group digitsRead, int digits = 0) =>
        digitsRead.Success ? long.Parse(digitsRead.Value.PadRight(digits, '0'), CultureInfo.InvariantCulture) : 0;
}
