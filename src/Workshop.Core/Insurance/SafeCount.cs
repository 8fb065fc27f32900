using Workshop.Core.House;

namespace Workshop.Core.Insurance;

/// <summary>A piece as a count of the safe names it.</summary>
public readonly record struct SafePiece(string Job, string Piece)
{
    public override string ToString() => $"{Job}/{Piece}";
}

/// <summary>Holds a count against what is said to lie in the safe.</summary>
public static class SafeCount
{
    /// <param name="should">Pieces that are said to lie in the safe.</param>
    /// <param name="counted">What was counted; a null piece means the whole watch.</param>
    /// <param name="missed">What the person looked for and did not find; a null piece means the whole watch.</param>
    public static SafeCompared Compare(
        IReadOnlyCollection<SafePiece> should, IReadOnlyCollection<(string Job, string? Piece)> counted, IReadOnlyCollection<(string Job, string? Piece)> missed)
    {
        var found = should.Where(one => counted.Any(seen => IsOf(seen, one))).ToHashSet();
        var gone = should.Where(one => !found.Contains(one) || missed.Any(lost => IsOf(lost, one)))
            .Select(one => one.ToString())
            .Concat(missed.Where(lost => !should.Any(one => IsOf(lost, one))).Select(Text));

        // Of a watch that was counted as a whole only those pieces are known that are said to lie there.
        var elsewhere = counted.Where(seen => !should.Any(one => IsOf(seen, one))).Select(Text);
        return new SafeCompared
        {
            Counted = found.Count + counted.Count(seen => !should.Any(one => IsOf(seen, one))),
            Missing = [.. gone.Distinct().Order(StringComparer.Ordinal)],
            Elsewhere = [.. elsewhere.Distinct().Order(StringComparer.Ordinal)],
        };
    }

    private static bool IsOf((string Job, string? Piece) named, SafePiece one) => named.Job == one.Job && (named.Piece is null || named.Piece == one.Piece);

    private static string Text((string Job, string? Piece) named) => named.Piece is { } piece ? $"{named.Job}/{piece}" : named.Job;
}
