using System.Collections.Immutable;

namespace Workshop.Core.Search;

/// <summary>How well words that somebody remembers fit those that are written down; 0 not at all, 1 the same.</summary>
public static class Likeness
{
    /// <summary>Below it nobody would call it the same name. From memory of what misspelt names look like: two letters of six.</summary>
    public const double Enough = 0.65;

    private const double WordAtLeast = 0.45;
    private const double OfABeginning = 0.95;

    /// <summary>The mean of the words sought, each by the word that fits it best; 0 where one of them fits none.</summary>
    public static double Of(ImmutableArray<string> sought, ImmutableArray<string> written)
    {
        if (sought.IsEmpty || written.IsEmpty)
        {
            return 0;
        }

        var sum = 0.0;
        foreach (var word in sought)
        {
            var best = written.Max(other => OfWords(word, other));
            if (best < WordAtLeast)
            {
                return 0;
            }

            sum += best;
        }

        return sum / sought.Length;
    }

    private static double OfWords(string sought, string written) =>
        sought == written ? 1
        : written.StartsWith(sought, StringComparison.Ordinal) ? OfABeginning
        : 1 - (double)Distance(sought, written) / Math.Max(sought.Length, written.Length);

    /// <summary>
    /// Letters to add, drop, change or swap with their neighbour until one word is the other (optimal string alignment: Damerau 1964,
    /// Levenshtein 1966).
    /// </summary>
    public static int Distance(string one, string other)
    {
        var before = new int[other.Length + 1];
        var last = new int[other.Length + 1];
        var row = new int[other.Length + 1];
        for (var j = 0; j <= other.Length; j++)
        {
            last[j] = j;
        }

        for (var i = 1; i <= one.Length; i++)
        {
            row[0] = i;
            for (var j = 1; j <= other.Length; j++)
            {
                row[j] = Math.Min(Math.Min(row[j - 1], last[j]) + 1, last[j - 1] + (one[i - 1] == other[j - 1] ? 0 : 1));
                if (i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1])
                {
                    row[j] = Math.Min(row[j], before[j - 2] + 1);
                }
            }

            (before, last, row) = (last, row, before);
        }

        return last[other.Length];
    }
}
