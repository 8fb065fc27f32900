using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Gates;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Gates;

/// <summary>Every family of gates, how it stands in this shop, and how it has fared.</summary>
/// <param name="Since">The first day counted.</param>
public sealed record GatesView(string Language, LocalDate Since, IReadOnlyList<GateView> Gates);

/// <summary>One family of gates.</summary>
/// <param name="Gate">The first part of a gate's full name: <c>needs</c> of <c>needs/casing</c>.</param>
/// <param name="Code">The code of its refusals.</param>
/// <param name="Strength">In force: the shop's own, else the default. A route's need may mark a stage as <c>stop</c> nevertheless.</param>
/// <param name="Own">Gates of the family whose strength the shop has set by their full name.</param>
/// <param name="Fixed">No rule of the shop changes it.</param>
/// <param name="Waivable">A manager may let the next event that needs it through.</param>
public sealed record GateView(
    string Gate, string Code, GateKind Kind, string PassesWhen, Strength Strength, Strength Default, IReadOnlyDictionary<string, Strength>? Own, bool Fixed, bool Waivable, GateCount Counted);

/// <summary>Gates as a shop sees them: what each asks for, how much it insists, and whether it is worth it.</summary>
public static class ReadGates
{
    /// <summary>Counted unless asked otherwise. Ours: a quarter of a year tells a habit from a chance.</summary>
    private const int UsualDays = 90;

    /// <summary>Counted at most, so that one question cannot read years.</summary>
    private const int DaysAtMost = 366;

    /// <param name="since">The first day counted, <c>YYYY-MM-DD</c>; 90 days ago unless told, at most 366.</param>
    public static async Task<Results<Seen<GatesView>, ProblemHttpResult>> Handle(
        Caller caller, LanguageAsked language, HttpResponse response, GateWordStore store, ShopRulesSource source, IClock clock, string? since, CancellationToken cancel)
    {
        var rules = await source.Read(caller.Site, cancel);
        var today = rules.Calendar.DateOf(clock.GetCurrentInstant());
        var read = since is null ? today.PlusDays(-UsualDays) : LocalDatePattern.Iso.Parse(since) is { Success: true, Value: var told } ? told : (LocalDate?)null;
        if (read is not { } from || from > today || from < today.PlusDays(-DaysAtMost))
        {
            return Problems.BadParameter("since", $"A day YYYY-MM-DD of the last {DaysAtMost} days is expected");
        }

        var words = await store.Since(caller.Site, Microseconds.Of(from.AtStartOfDayInZone(rules.Calendar.Zone).ToInstant()), cancel);
        var counts = await GateCounts.Of(words, job => store.Applied(caller.Site, job, cancel));
        response.Headers.ContentLanguage = LanguageAsked.Tag(language.Best);
        return Answer.Seen(rules.Version, new GatesView(
            LanguageAsked.Tag(language.Best), from, [.. GateTable.All.Select(gate => Shown(gate, rules, counts.GetValueOrDefault(gate.Family, GateCount.None), language.Best))]));
    }

    private static GateView Shown(GateFacts gate, ShopRules rules, GateCount counted, Language language)
    {
        var own = gate.Fixed ? [] : rules.GateStrengths.Where(rule => rule.Key.StartsWith($"{gate.Family}/", StringComparison.Ordinal)).OrderBy(rule => rule.Key, StringComparer.Ordinal).ToDictionary();
        return new GateView(
            gate.Family, gate.Code, gate.Kind, Phrase.OfTable(gate.PassesWhen).In(language),
            !gate.Fixed && rules.GateStrengths.TryGetValue(gate.Family, out var strength) ? strength : gate.Default, gate.Default,
            own.Count == 0 ? null : own, gate.Fixed, gate.Waivable, counted);
    }
}
