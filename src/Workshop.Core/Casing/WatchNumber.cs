namespace Workshop.Core.Casing;

/// <summary>Numbers as read from metal: blanks, hyphens, dots and case say nothing.</summary>
public static class WatchNumber
{
    /// <summary>The form in which two readings of a number are compared; null for a number that was not read.</summary>
    public static string? Key(string? read)
    {
        if (string.IsNullOrWhiteSpace(read))
        {
            return null;
        }

        var key = string.Concat(read.Where(letter => !char.IsWhiteSpace(letter) && letter is not ('-' or '.'))).ToUpperInvariant();
        return key.Length == 0 ? null : key;
    }

    /// <summary>Two numbers agree when both were read and are the same; an unread one has nothing to disagree with.</summary>
    public static bool Agree(string? known, string? read) => Key(known) is not { } one || Key(read) is not { } other || one == other;
}
