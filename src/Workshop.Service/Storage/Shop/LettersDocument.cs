using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;
using Workshop.Core.Letters;
using Workshop.Core.Words;
using Workshop.Service.Letters;

namespace Workshop.Service.Storage.Shop;

/// <summary>The shop's own texts of a moment in one language; what is left out is as the program brings it along.</summary>
public sealed record LetterTextsBody
{
    [StringLength(500, MinimumLength = 1)]
    public string? Subject { get; init; }

    [StringLength(20_000, MinimumLength = 1)]
    public string? Text { get; init; }

    [StringLength(40_000, MinimumLength = 1)]
    public string? Html { get; init; }

    internal string? Of(LetterPart part) => part switch
    {
        LetterPart.Subject => Subject,
        LetterPart.Text => Text,
        _ => Html,
    };
}

/// <summary>What the shop writes at a moment, in its own words; its id is the moment's word, or <c>letter</c> for what stands round the paragraphs.</summary>
public sealed record LettersDocument : IShopDocument
{
    public string? Id { get; init; }

    public LetterTextsBody? En { get; init; }

    public LetterTextsBody? De { get; init; }

    /// <summary>The shop's own text; null where it has none.</summary>
    public string? Of(Language language, LetterPart part) => (language == Language.German ? De : En)?.Of(part);

    public IEnumerable<Fault> Faults(DocumentCheck check)
    {
        if (check.Id != LetterTexts.Frame && Word.Read<LetterMoment>(check.Id) is null)
        {
            yield return new Fault("/id", $"There is no such moment; it is {LetterTexts.Frame}, or one of {string.Join(", ", Word.All<LetterMoment>())}");
            yield break;
        }

        var names = LetterTexts.NamesOf(check.Id);
        foreach (var (member, body) in new[] { ("en", En), ("de", De) })
        {
            foreach (var part in Enum.GetValues<LetterPart>())
            {
                foreach (var wrong in Wrong(body?.Of(part), part, check.Id, names))
                {
                    yield return new Fault($"/{member}/{Word.Of(part)}", wrong);
                }
            }
        }
    }

    private static IEnumerable<string> Wrong(string? source, LetterPart part, string moment, IReadOnlySet<string> names)
    {
        if (source is null)
        {
            yield break;
        }

        if (!LetterTemplate.TryRead(source, out var template, out var error))
        {
            yield return $"This cannot be read: {error}";
            yield break;
        }

        foreach (var unknown in template.Names.Where(name => !names.Contains(name)).Order(StringComparer.Ordinal))
        {
            yield return $"Nothing is called '{unknown}' here; there are {string.Join(", ", names.Order(StringComparer.Ordinal))}";
        }

        if (moment == LetterTexts.Frame && part != LetterPart.Subject && !template.Names.Contains("body"))
        {
            yield return "What stands round the paragraphs says where they go: {{ body }}";
        }

        if (part == LetterPart.Html && (source.Contains("<script", StringComparison.OrdinalIgnoreCase) || source.Contains("src=", StringComparison.OrdinalIgnoreCase) || source.Contains("url(", StringComparison.OrdinalIgnoreCase)))
        {
            yield return "A letter fetches nothing from elsewhere and runs nothing";
        }
    }
}
