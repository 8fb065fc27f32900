using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Words;

namespace Workshop.Core.Warranties;

/// <summary>How a source was seen.</summary>
public enum HowSure
{
    Read,
    SecondHand,
    FromMemory,
}

/// <summary>Where an arithmetic comes from. Titles of laws and cases are the same in every language.</summary>
public sealed record PresetSource(string Source, HowSure HowSure);

/// <summary>
/// A rule set to begin with, named by its arithmetic. Choosing one makes no law a shop's own promise: it is a manner of counting, to be
/// checked before use.
/// </summary>
/// <param name="Differs">What differs from the shop's default.</param>
/// <param name="Remark">Where such a manner is known.</param>
public sealed record WarrantyPreset(WarrantyRuleSet RuleSet, Phrase Differs, Phrase Remark, ImmutableArray<PresetSource> Sources)
{
    public string Id => RuleSet.Id;
}

/// <summary>The rule sets that are shipped.</summary>
public static class WarrantyPresets
{
    public static readonly Phrase NoAdvice = Phrase.Of("No advice; check before use.");

    public static ImmutableArray<WarrantyPreset> All { get; } =
    [
        new(
            With("plain"),
            Phrase.Of("nothing; the day of hand-over is not counted, the like-numbered day is the last"),
            Phrase.Of("The manner of several laws on periods; most shops count so."),
            [
                new("Regulation (EEC, Euratom) No 1182/71, art. 3(1), 3(2)(c)", HowSure.Read), new("Court of Justice, C-171/03 (Toeters)", HowSure.Read),
                new("Dodds v Walker [1981] UKHL", HowSure.Read), new("BGB 187(1), 188(2), 188(3)", HowSure.Read),
            ]),
        new(
            With("first-day-counts") with { FirstDay = FirstDay.Counted },
            Phrase.Of("the day of hand-over counts as the first, the last lies a day before the like-numbered one"),
            Phrase.Of("The manner of periods that begin with the beginning of a day."),
            [new("BGB 187(2), 188(2)", HowSure.FromMemory), new("UK SI 2018/1082, rule 1.4", HowSure.Read)]),
        new(
            With("rolls-to-working-day") with { Roll = new RollRules { When = RollWhen.WeekendOrHoliday } },
            Phrase.Of("a last day on a weekend or public holiday gives way to the next working day; name the region"),
            Phrase.Of("The manner of some laws; for a private promise it holds only where the shop says so."),
            [new("Regulation (EEC, Euratom) No 1182/71, art. 3(4)", HowSure.Read), new("BGB 193", HowSure.Read)]),
        new(
            With("pauses-in-repair") with { NewWork = new NewWorkRules { Least = Period.FromMonths(12) } },
            Phrase.Of("the warranty pauses while the watch is here, and the repair itself has twelve months"),
            Phrase.Of("A manner known from Spain."),
            [new("TRLGDCU as amended by RDL 7/2021", HowSure.SecondHand)]),
        new(
            With("adds-stays-from-seven-days") with { Extension = WarrantyRuleSet.ShopDefault.Extension with { LeastDays = 7 } },
            Phrase.Of("a stay adds its days only from seven on"),
            Phrase.Of("A manner known from France."),
            [new("Code de la consommation, formerly L217-16", HowSure.SecondHand), new("now L217-28", HowSure.FromMemory)]),
        new(
            With("adds-twelve-months-once") with
            {
                Extension = WarrantyRuleSet.ShopDefault.Extension with { Rule = ExtensionRule.Fixed, Fixed = Period.FromMonths(12), Once = true },
            },
            Phrase.Of("the first covered claim adds twelve months, later ones add nothing; no days are added"),
            Phrase.Of("The manner of a seller's liability in the European Union from 31 July 2026 on; a repairer's promise is another matter."),
            [new("Directive (EU) 2024/1799", HowSure.SecondHand), new("that it is added only once", HowSure.FromMemory)]),
    ];

    private static WarrantyRuleSet With(string id) => WarrantyRuleSet.ShopDefault with { Id = id, Basis = "a manner of counting; check before use" };
}
