using System.Diagnostics.CodeAnalysis;

namespace Workshop.Core.Labels;

/// <summary>What a label is stuck on; its letter is the label's first character.</summary>
public enum LabelKind
{
    Job = 'J',
    Expected = 'E',
    Piece = 'P',
    Tray = 'T',
    Cage = 'C',
    Bench = 'B',
    Badge = 'A',
    WordCard = 'S',
    Machine = 'M',
    FluidBatch = 'F',
    WinderPlace = 'W',
}

/// <summary>
/// Eight characters of a 29-letter alphabet without look-alikes; the last is a check character. The sum of value × weight
/// (weights 1 to 8) is 0 modulo the prime 29, the construction of ISBN-10: every wrong character and every exchange of two
/// characters changes the sum, so a misread label is refused and never another watch.
/// </summary>
public readonly record struct Label : IComparable<Label>
{
    /// <summary>The letters and digits a label may hold; a character's place here is its value.</summary>
    public const string Alphabet = "23456789ABCDEFGHJKMNPQRSTVWXY";

    /// <summary>Characters in a label, the check character included.</summary>
    public const int Length = 8;

    private readonly string? text;

    private Label(string text) => this.text = text;

    public LabelKind Kind => (LabelKind)ToString()[0];

    /// <summary>Reads a label as typed or scanned: lower case, blanks and hyphens are accepted, Z is read as Y (keyboard layouts).</summary>
    /// <returns>
    /// false for a wrong length, a foreign character, a wrong check character, or a first character that is no kind (so also for
    /// 22222222, the only repeated character whose sum is right).
    /// </returns>
    public static bool TryRead(string? typed, [NotNullWhen(true)] out Label? label)
    {
        label = null;
        if (typed is null || typed.Length > 4 * Length)
        {
            return false;
        }

        Span<char> kept = stackalloc char[Length];
        var count = 0;
        foreach (var raw in typed)
        {
            if (raw is ' ' or '-')
            {
                continue;
            }

            // Only plain letters: there are foreign ones whose upper case is one of ours.
            var upper = char.IsAsciiLetterLower(raw) ? (char)(raw - 'a' + 'A') : raw;
            var letter = upper is 'Z' ? 'Y' : upper;
            if (count == Length || !Alphabet.Contains(letter))
            {
                return false;
            }

            kept[count++] = letter;
        }

        if (count != Length || Sum(kept) % Alphabet.Length != 0 || !Enum.IsDefined((LabelKind)kept[0]))
        {
            return false;
        }

        label = new Label(new string(kept));
        return true;
    }

    /// <summary>Reads a label that is known to be one.</summary>
    /// <exception cref="FormatException">The text is no label.</exception>
    public static Label Read(string text) =>
        TryRead(text, out var label) ? label.Value : throw new FormatException($"'{text}' is no label.");

    /// <summary>Completes a kind and six free characters (places in <see cref="Alphabet"/>) with the check character.</summary>
    /// <exception cref="ArgumentException">Not six places, a place outside the alphabet, or no kind.</exception>
    public static Label Complete(LabelKind kind, ReadOnlySpan<int> free)
    {
        if (free.Length != Length - 2 || free.ContainsAnyExceptInRange(0, Alphabet.Length - 1) || !Enum.IsDefined(kind))
        {
            throw new ArgumentException($"A label is completed from a kind and {Length - 2} places from 0 to {Alphabet.Length - 1}.");
        }

        Span<char> characters = stackalloc char[Length];
        characters[0] = (char)kind;
        for (var i = 0; i < free.Length; i++)
        {
            characters[i + 1] = Alphabet[free[i]];
        }

        // The check character is the one whose value × 8 brings the sum to 0: 8 × 11 is 1 modulo 29.
        characters[^1] = Alphabet[0];
        var rest = Sum(characters) % Alphabet.Length;
        characters[^1] = Alphabet[11 * (Alphabet.Length - rest) % Alphabet.Length];
        return new Label(new string(characters));
    }

    public int CompareTo(Label other) => string.CompareOrdinal(ToString(), other.ToString());

    public override string ToString() => text ?? throw new InvalidOperationException("A label was never read.");

    private static int Sum(ReadOnlySpan<char> characters)
    {
        var sum = 0;
        for (var i = 0; i < characters.Length; i++)
        {
            sum += (i + 1) * Alphabet.IndexOf(characters[i], StringComparison.Ordinal);
        }

        return sum;
    }
}
