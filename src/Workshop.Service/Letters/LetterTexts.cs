using System.Collections.Concurrent;
using Workshop.Core.Words;

namespace Workshop.Service.Letters;

/// <summary>The three parts of a letter, or of a paragraph of one.</summary>
public enum LetterPart
{
    Subject,
    Text,
    Html,
}

/// <summary>The texts that the program brings along, <c>&lt;moment&gt;.&lt;en|de&gt;.&lt;subject|text|html&gt;</c>; those of the whole letter are called <see cref="Frame"/>, a line of one <see cref="Page"/>.</summary>
public static class LetterTexts
{
    /// <summary>What stands round the paragraphs.</summary>
    public const string Frame = "letter";

    /// <summary>Where a watch can be seen, in a letter about several of them.</summary>
    public const string Page = "page";

    /// <summary>Values that every text may ask for.</summary>
    private static readonly string[] Everywhere =
        ["name", "watch", "reference", "references", "shopName", "shopAddress", "shopTelephone", "shopEmail", "link", "subject"];

    private static readonly ConcurrentDictionary<(string Moment, Language Language, LetterPart Part), LetterTemplate> Read = new();

    public static LetterTemplate Of(string moment, Language language, LetterPart part) => Read.GetOrAdd((moment, language, part), static key => LetterTemplate.Read(Source(key.Moment, key.Language, key.Part)));

    /// <summary>The values a text of a moment may ask for.</summary>
    public static IReadOnlySet<string> NamesOf(string moment) =>
        Enum.GetValues<Language>().SelectMany(language => Enum.GetValues<LetterPart>().SelectMany(part => Of(moment, language, part).Names)).Concat(Everywhere).ToHashSet(StringComparer.Ordinal);

    private static string Source(string moment, Language language, LetterPart part)
    {
        var name = $"Letters/{moment}.{(language == Language.German ? "de" : "en")}.{Word.Of(part)}";
        using var stream = typeof(LetterTexts).Assembly.GetManifestResourceStream(name) ?? throw new InvalidOperationException($"The text {name} is not in the program.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
