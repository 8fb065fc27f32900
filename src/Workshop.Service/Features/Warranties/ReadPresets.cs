using System.Collections.Frozen;
using System.Collections.Immutable;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;

namespace Workshop.Service.Features.Warranties;

/// <summary>A rule set to begin with.</summary>
/// <param name="Id">Its arithmetic in a word.</param>
/// <param name="Differs">What differs from the shop's default.</param>
/// <param name="Remark">Where such a manner is known.</param>
/// <param name="Sources">Where it comes from, and how that was seen.</param>
/// <param name="StatutoryRights">Said wherever warranty days are shown.</param>
/// <param name="Advice">Whether anybody should rely on it.</param>
/// <param name="RuleSet">As it may be put into the shop's rules, under <c>warranties.ruleSets</c>.</param>
public sealed record PresetView(
    string Id, string Differs, string Remark, ImmutableArray<PresetSource> Sources, string StatutoryRights, string Advice, WarrantyRuleSet RuleSet);

/// <param name="Language">The language of the texts: <c>en</c> or <c>de</c>.</param>
/// <param name="Warranties">Rule sets for counting days of warranty.</param>
public sealed record PresetsView(string Language, ImmutableArray<PresetView> Warranties);

/// <summary>What a shop may begin its own rules with; nothing of it holds before the shop has put it there.</summary>
public static class ReadPresets
{
    // They are the program's own and change with it alone.
    private const long Version = 1;

    private static readonly FrozenDictionary<Language, PresetsView> Views = Enum.GetValues<Language>().ToFrozenDictionary(language => language, In);

    public static Seen<PresetsView> Handle(LanguageAsked language, HttpResponse response)
    {
        response.Headers.ContentLanguage = LanguageAsked.Tag(language.Best);
        return Answer.Seen(Version, Views[language.Best]);
    }

    private static PresetsView In(Language language) => new(LanguageAsked.Tag(language), [.. WarrantyPresets.All.Select(preset => new PresetView(
        preset.Id, preset.Differs.In(language), preset.Remark.In(language), preset.Sources, preset.RuleSet.SentenceIn(language), WarrantyPresets.NoAdvice.In(language), preset.RuleSet))]);
}
