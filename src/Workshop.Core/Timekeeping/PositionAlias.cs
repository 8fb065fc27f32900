using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping.Quantities;
using Workshop.Core.Words;

namespace Workshop.Core.Timekeeping;

/// <summary>What a word of the shop's own means; one of the three.</summary>
public sealed record PositionAlias
{
    public Position? Position { get; init; }

    /// <summary>Where the crown points with the dial upright, clockwise from up as one looks at the dial: 90 is right.</summary>
    [Range(0, 359)]
    public int? CrownDegrees { get; init; }

    /// <summary>The mark of the dial that is uppermost, 1 to 12; where the crown then points depends on where it sits.</summary>
    [Range(1, 12)]
    public int? MarkUp { get; init; }

    /// <summary>The position itself, on a watch with its crown at this hour.</summary>
    public Position? Of(int crownHour) =>
        Position
        ?? (CrownDegrees is { } degrees ? new WatchPosition(Attitude.Upright, degrees).Quarter()
            : MarkUp is { } mark ? WatchPosition.MarkUp(mark, crownHour).Quarter()
            : null);

    internal IEnumerable<Fault> Faults(string pointer)
    {
        if (new object?[] { Position, CrownDegrees, MarkUp }.Count(one => one is not null) != 1)
        {
            yield return new Fault(pointer, "A word means either a position, or where the crown points, or the mark that is up");
        }
        else if (CrownDegrees is < 0 or > 359)
        {
            yield return new Fault($"{pointer}/crownDegrees", "A crown points to 0 to 359 degrees");
        }
        else if (MarkUp is < 1 or > 12)
        {
            yield return new Fault($"{pointer}/markUp", "A dial has the marks 1 to 12");
        }
        else if (CrownDegrees is { } degrees && new WatchPosition(Attitude.Upright, degrees).Quarter() is null)
        {
            yield return new Fault($"{pointer}/crownDegrees", "Half way between two positions the crown points to neither");
        }
    }
}

/// <summary>A position as somebody told it.</summary>
/// <param name="ByMark">It was told by the mark that is up, so that it rests on where the crown sits.</param>
public readonly record struct ToldPosition(Position Position, bool ByMark);

/// <summary>Reads a position: where the crown points, a symbol of ISO 3158, or a word of the shop's own.</summary>
public static class PositionWords
{
    /// <summary>As printed; CB is read too.</summary>
    public static ImmutableArray<string> Symbols { get; } = ["CH", "FH", "CB", "3H", "6H", "9H", "12H"];

    /// <param name="crownHour">1 to 12: where on the dial the crown sits.</param>
    /// <returns>null for a word that names no position here.</returns>
    public static ToldPosition? Read(string word, IReadOnlyDictionary<string, PositionAlias> aliases, int crownHour)
    {
        var told = word.Trim();
        if (Word.Read<Position>(told) is { } plain)
        {
            return new ToldPosition(plain, ByMark: false);
        }

        var own = aliases.FirstOrDefault(one => string.Equals(one.Key.Trim(), told, StringComparison.OrdinalIgnoreCase)).Value;
        return own is not null ? own.Of(crownHour) is { } meant ? new ToldPosition(meant, own.MarkUp is not null) : null
            : ControlPosition.Of(told, crownHour) is { } symbol ? new ToldPosition(symbol, char.IsAsciiDigit(told[0]))
            : null;
    }

    /// <summary>Everything that is read.</summary>
    public static IEnumerable<string> Known(IReadOnlyDictionary<string, PositionAlias> aliases) =>
        Word.All<Position>().Concat(Symbols).Concat(aliases.Keys.Order(StringComparer.Ordinal)).Distinct(StringComparer.OrdinalIgnoreCase);

    internal static IEnumerable<Fault> Faults(IReadOnlyDictionary<string, PositionAlias> aliases, string pointer)
    {
        foreach (var (word, alias) in aliases.OrderBy(one => one.Key, StringComparer.Ordinal))
        {
            var at = string.Create(CultureInfo.InvariantCulture, $"{pointer}/{word.Replace("~", "~0", StringComparison.Ordinal).Replace("/", "~1", StringComparison.Ordinal)}");
            if (string.IsNullOrWhiteSpace(word) || word.Length > 40)
            {
                yield return new Fault(at, "A word has 1 to 40 letters");
            }
            else if (Word.Read<Position>(word.Trim()) is not null)
            {
                yield return new Fault(at, "This word is a position already, and means that everywhere");
            }

            foreach (var fault in alias.Faults(at))
            {
                yield return fault;
            }
        }
    }
}
