using System.Globalization;
using System.Text;
using NodaTime;

namespace Workshop.Core.Words;

/// <summary>
/// A sentence and its parts, kept apart until somebody asks for it in a language. The English pattern is its key in the table of every
/// other language; what the table lacks is said in English.
/// </summary>
public sealed class Phrase
{
    /// <summary>What a small display holds, read from an arm's length.</summary>
    public const int LineAtMost = 60;

    private readonly object[] parts;

    private Phrase(string pattern, object[] parts)
    {
        Pattern = pattern;
        this.parts = parts;
    }

    /// <summary>In English, with <c>{0}</c>, <c>{1}</c> … where the parts stand.</summary>
    public string Pattern { get; }

    /// <summary>A phrase whose pattern stands in the source: a literal, so that a test finds it and looks for its German.</summary>
    /// <param name="parts">
    /// A word of a closed list (an enum member or a <see cref="Term"/>), a <see cref="Wording"/>, a day (or a <see cref="Spoken"/> one), a moment with its zone, a <see cref="Figure"/>, a whole number,
    /// a <see cref="Series"/>, another phrase, or text that is the same in every language.
    /// </param>
    public static Phrase Of(string pattern, params object[] parts) => new(pattern, parts);

    /// <summary>A sentence that a table of the program holds (a problem's title, what a gate asks for); it has no parts.</summary>
    public static Phrase OfTable(string sentence) => new(sentence, []);

    public string In(Language language)
    {
        var pattern = language == Language.German && GermanPhrases.Of(Pattern) is { } german ? german : Pattern;
        if (parts.Length == 0)
        {
            return pattern;
        }

        var text = new StringBuilder(pattern.Length + (24 * parts.Length));
        for (var i = 0; i < pattern.Length; i++)
        {
            if (pattern[i] == '{')
            {
                Add(text, parts[pattern[i + 1] - '0'], language);
                i += 2;
            }
            else
            {
                text.Append(pattern[i]);
            }
        }

        return text.ToString();
    }

    /// <summary>As <see cref="In"/>, cut where a line of a small display ends.</summary>
    public string Line(Language language) => Cut(In(language));

    public static string Cut(string line) => line.Length <= LineAtMost ? line : $"{line[..(LineAtMost - 1)]}…";

    /// <summary>In English.</summary>
    public override string ToString() => In(Language.English);

    // A word of a list begins a sentence with a capital; what a person has written is left as it is.
    private static void Add(StringBuilder text, object part, Language language)
    {
        var said = Said(part, language);
        if (text.Length == 0 && part is Enum or Term or Wording && said.Length > 0)
        {
            text.Append(char.ToUpperInvariant(said[0])).Append(said, 1, said.Length - 1);
        }
        else
        {
            text.Append(said);
        }
    }

    private static string Said(object part, Language language) => part switch
    {
        string same => same,
        Enum member => WordLists.Of(member, language),
        Phrase phrase => phrase.In(language),
        Wording own => own.In(language),
        Term term => WordLists.Of(term.List, term.Word, language),
        Figure figure => figure.In(language),
        Series series => series.In(language, Said),
        LocalDate day => Dates.Day(day, language),
        Spoken spoken => Dates.InFull(spoken.Day, spoken.Weekday, language),
        ZonedDateTime moment => Dates.Moment(moment, language),
        int number => number.ToString(CultureInfo.InvariantCulture),
        _ => throw new ArgumentException($"A {part.GetType().Name} has no words.", nameof(part)),
    };
}

/// <summary>A word of a list that is no enum, or that not every list has: one nobody knows is shown with blanks for hyphens.</summary>
public sealed record Term(string List, string Word);

/// <summary>A number with its format; German has a comma.</summary>
public sealed record Figure(decimal Value, string Format = "0.0")
{
    /// <summary>With its sign, to one decimal.</summary>
    public static Figure Signed(decimal value) => new(value, "+0.0;-0.0;0.0");

    public string In(Language language)
    {
        var text = Value.ToString(Format, CultureInfo.InvariantCulture);
        return language == Language.German ? text.Replace('.', ',') : text;
    }
}

/// <summary>Several parts one after the other: all of them, or any one of them.</summary>
/// <param name="AnyOne">True: joined by "or".</param>
public sealed record Series(IReadOnlyCollection<object> Parts, bool AnyOne = false)
{
    internal string In(Language language, Func<object, Language, string> say) =>
        string.Join(!AnyOne ? ", " : language == Language.German ? " oder " : " or ", Parts.Select(part => say(part, language)));
}
