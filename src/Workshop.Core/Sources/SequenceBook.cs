using System.Collections.Immutable;

namespace Workshop.Core.Sources;

/// <summary>Numbers of a source that nobody waits for: declared as never coming, or judged before their turn.</summary>
public readonly record struct SequenceRange(long From, long To);

/// <summary>
/// Which running number of a source comes next. A number above it waits for those between, for a while; one below it is late, never a
/// conflict.
/// </summary>
public sealed record SequenceBook
{
    /// <summary>A source seen for the first time begins at 1.</summary>
    public static readonly SequenceBook New = new();

    public long Next { get; init; } = 1;

    /// <summary>Above <see cref="Next"/>, in order, without touching one another.</summary>
    public ImmutableArray<SequenceRange> NotAwaited { get; init; } = [];

    /// <summary>Whether something between what was judged and this number is still to come.</summary>
    public bool MustWait(long sequence) => sequence > Next;

    /// <summary>An event of this number was judged, in its turn or because nobody waited any longer: the next is the one after the highest.</summary>
    public SequenceBook Judged(long sequence) => sequence < Next ? this : (this with { Next = sequence + 1 }).Tidied();

    /// <summary>These numbers are not waited for.</summary>
    public SequenceBook Without(long from, long to) => to < Next ? this
        : (this with { NotAwaited = Union(NotAwaited, new SequenceRange(from, to)) }).Tidied();

    private SequenceBook Tidied()
    {
        var next = Next;
        var left = NotAwaited.ToBuilder();
        while (left.Count > 0 && left[0].From <= next)
        {
            next = Math.Max(next, left[0].To + 1);
            left.RemoveAt(0);
        }

        return next == Next && left.Count == NotAwaited.Length ? this : this with { Next = next, NotAwaited = left.ToImmutable() };
    }

    private static ImmutableArray<SequenceRange> Union(ImmutableArray<SequenceRange> ranges, SequenceRange one)
    {
        var apart = ranges.Where(range => range.To + 1 < one.From || range.From > one.To + 1).ToList();
        var touching = ranges.Except(apart).Append(one).ToArray();
        apart.Add(new SequenceRange(touching.Min(range => range.From), touching.Max(range => range.To)));
        return [.. apart.OrderBy(range => range.From)];
    }
}
