using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace Workshop.Core.Search;

/// <summary>
/// A text as people remember it: letters without marks and case. Written-out umlauts meet the short form, so that Müller, Mueller and
/// Muller are one, and Łódź is Lodz.
/// </summary>
public static class FoldedText
{
    /// <summary>Counts up when the same text folds to other words or trigrams; what was kept is then made anew.</summary>
    public const int Version = 1;

    /// <summary>Letters that no decomposition takes apart.</summary>
    private static string? Spelt(char letter) => letter switch
    {
        'ß' => "ss",
        'æ' => "a",
        'œ' => "o",
        'ø' => "o",
        'ł' => "l",
        'đ' or 'ð' => "d",
        'þ' => "th",
        'ı' => "i",
        'ħ' => "h",
        _ => null,
    };

    /// <summary>The words of a text in order; empty where it has neither letters nor digits.</summary>
    public static ImmutableArray<string> Words(string? text)
    {
        var words = ImmutableArray.CreateBuilder<string>();
        var word = new StringBuilder();
        foreach (var letter in (text ?? "").ToLowerInvariant().Normalize(NormalizationForm.FormD))
        {
            if (Spelt(letter) is { } spelt)
            {
                word.Append(spelt);
            }
            else if (char.IsLetterOrDigit(letter) || char.IsSurrogate(letter))
            {
                word.Append(letter);
            }
            else if (letter is not ('\'' or '’' or '.') && CharUnicodeInfo.GetUnicodeCategory(letter) is not (UnicodeCategory.NonSpacingMark or UnicodeCategory.EnclosingMark))
            {
                End();
            }
        }

        End();
        return words.ToImmutable();

        void End()
        {
            if (word.Length > 0)
            {
                words.Add(Shortened(word.ToString()));
                word.Clear();
            }
        }
    }

    // Both sides are shortened alike, so that nobody has to know which word had an umlaut.
    private static string Shortened(string word) => word.Replace("ae", "a").Replace("oe", "o").Replace("ue", "u");
}
