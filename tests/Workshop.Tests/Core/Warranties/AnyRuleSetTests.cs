using System.Collections.Frozen;
using System.Collections.Immutable;
using CsCheck;
using NodaTime;
using Workshop.Core.Warranties;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Warranties;

/// <summary>What holds for every rule set, every start and every history of claims.</summary>
public class AnyRuleSetTests
{
    private static readonly LocalDate FirstDay = new(2024, 1, 1);

    private static readonly Gen<Period> AnyTerm = Gen.OneOf(
        Gen.Int[1, 60].Select(Period.FromMonths), Gen.Int[1, 5].Select(Period.FromYears), Gen.Int[1, 60].Select(Period.FromWeeks), Gen.Int[1, 400].Select(Period.FromDays),
        Gen.Select(Gen.Int[1, 12], Gen.Int[1, 40]).Select(one => Period.FromMonths(one.Item1) + Period.FromDays(one.Item2)));

    private static readonly Gen<WarrantyRuleSet> AnyRules =
        from counted in Gen.Bool
        from roll in Gen.Int[0, 2]
        from within in Gen.Int[0, 60]
        from rule in Gen.Int[0, 2]
        from onlyIfCovered in Gen.Bool
        from bothEndDays in Gen.Bool
        from leastDays in Gen.Int[0, 14]
        from added in AnyTerm
        from alsoFixed in Gen.Bool
        from once in Gen.Bool
        from least in AnyTerm
        from newWork in Gen.Bool
        from uncollected in Gen.Int[0, 60]
        from presumed in Gen.Int[0, 20]
        select new WarrantyRuleSet
        {
            Id = "any",
            FirstDay = counted ? Workshop.Core.Warranties.FirstDay.Counted : Workshop.Core.Warranties.FirstDay.NotCounted,
            Roll = new() { When = (RollWhen)roll },
            Claim = new() { WatchArrivesWithin = within == 0 ? null : Period.FromDays(within) },
            Extension = new()
            {
                Rule = (ExtensionRule)rule,
                OnlyIfCovered = onlyIfCovered,
                BothEndDays = bothEndDays,
                LeastDays = leastDays,
                Fixed = rule == (int)ExtensionRule.Fixed || (rule == (int)ExtensionRule.DaysInHouse && alsoFixed) ? added : null,
                Once = once,
            },
            NewWork = newWork ? new() { Least = least } : null,
            Start = new() { NotCollectedAfterReady = Period.FromDays(uncollected), PresumedDeliveredAfterDispatch = Period.FromDays(presumed) },
        };

    private static readonly Gen<WarrantyTerm> AnyTermOfAnyRules =
        from rules in AnyRules
        from term in AnyTerm
        from day in Gen.Int[0, 1500]
        from ready in Gen.Int[0, 90]
        from sent in Gen.Bool
        from closures in Gen.Int[0, 4000].Array[0, 40]
        select Begin(rules, term, new Leaving(sent ? HandedOverHow.Dispatched : HandedOverHow.Collected, FirstDay.PlusDays(day), FirstDay.PlusDays(day - ready)), closures);

    private static readonly Gen<WarrantyClaim[]> AnyClaims = Gen.Select(Gen.Int[0, 1200], Gen.Int[0, 80], Gen.Int[0, 60], Gen.Int[0, 4], Gen.Bool).Array[0, 5].Select(all =>
        all.Select((one, i) => Claim(i + 1, FirstDay.PlusDays(400 + one.Item1), one.Item2, one.Item5 ? one.Item3 : null, one.Item4 switch { 0 => null, 1 => false, _ => true })).ToArray());

    [Fact]
    public void A_rule_set_that_can_be_saved_is_one_of_these() => AnyRules.Sample(rules => !rules.Faults("").Any());

    [Fact]
    public void The_last_day_is_never_before_the_first_and_never_before_the_nominal_one() => Gen.Select(AnyTermOfAnyRules, AnyClaims, Gen.Int[-5, 30]).Sample((term, claims, delivered) =>
    {
        var line = WarrantyArithmetic.Lines([term], claims, term.HandedOverOn.PlusDays(delivered))[0];
        return line.LastDay >= line.StartsOn && line.StartsOn >= term.StartsOn && line.LastDay >= line.NominalLastDay && line.NominalLastDay >= term.LastDay;
    });

    [Fact]
    public void One_more_claim_or_a_longer_stay_never_ends_it_earlier() => Gen.Select(AnyTermOfAnyRules, AnyClaims, AnyClaims, Gen.Int[0, 40]).Sample((term, claims, more, longer) =>
    {
        var before = LastDay(term, claims);
        var withMore = LastDay(term, [.. claims, .. more.Select(claim => claim with { Number = claim.Number + claims.Length })]);
        var withLonger = LastDay(term, [.. claims.Select(claim => claim with { Stays = [.. claim.Stays.Select(stay => stay with { ReturnedOn = stay.ReturnedOn?.PlusDays(longer) })] })]);
        return withMore >= before && withLonger >= before;
    });

    [Fact]
    public void A_later_delivery_never_ends_it_earlier() => Gen.Select(AnyTermOfAnyRules, Gen.Int[0, 60], Gen.Int[0, 60]).Sample((term, one, other) =>
        WarrantyArithmetic.Lines([term], [], term.HandedOverOn.PlusDays(Math.Max(one, other)))[0].LastDay >= WarrantyArithmetic.Lines([term], [], term.HandedOverOn.PlusDays(one))[0].LastDay);

    [Fact]
    public void Two_stays_that_overlap_count_once() =>
        Gen.Select(AnyTermOfAnyRules, Gen.Int[0, 1200], Gen.Int[20, 60], Gen.Int[20, 60], Gen.Int[0, 20]).Sample((term, begins, first, second, overlap) =>
        {
            var rules = term.CountedBy with { Extension = term.CountedBy.Extension with { Fixed = null, Rule = ExtensionRule.DaysInHouse } };
            var (from, until) = (FirstDay.PlusDays(400 + begins), FirstDay.PlusDays(400 + begins + first + second - overlap));
            var whole = Covered(1, from, until);
            var (one, other) = (Covered(1, from, from.PlusDays(first)), Covered(2, from.PlusDays(first - overlap), until));

            var asOne = Line(term with { Rules = rules }, whole);
            var asTwo = Line(term with { Rules = rules }, one, other);
            return asOne.ExtensionDays == asTwo.ExtensionDays && asOne.LastDay == asTwo.LastDay;
        });

    [Fact]
    public void Every_last_day_can_be_explained_in_both_languages_and_without_a_clock() => Gen.Select(AnyTermOfAnyRules, AnyClaims).Sample((term, claims) =>
    {
        var (line, again) = (Line(term, claims), Line(term, [.. claims.Reverse()]));
        return line.Why.EndsWith('.') && line.WhyIn(Language.German).EndsWith('.') && !line.WhyIn(Language.German).Contains("last day") && line.Why == again.Why && line.LastDay == again.LastDay;
    });

    private static LocalDate LastDay(WarrantyTerm term, params WarrantyClaim[] claims) => Line(term, claims).LastDay;

    private static WarrantyLine Line(WarrantyTerm term, params WarrantyClaim[] claims) => WarrantyArithmetic.Lines([term], claims)[0];

    private static WarrantyClaim Covered(int number, LocalDate received, LocalDate returned) =>
        new() { Number = number, Covered = true, ReportedOn = received, Stays = [new(received, returned)] };

    private static WarrantyClaim Claim(int number, LocalDate reported, int arrivesAfter, int? days, bool? covered) => new()
    {
        Number = number,
        Covered = covered,
        ReportedOn = reported,
        Stays = [new(reported.PlusDays(arrivesAfter), days is { } stayed ? reported.PlusDays(arrivesAfter + stayed) : null)],
    };

    private static WarrantyTerm Begin(WarrantyRuleSet rules, Period term, Leaving leaving, int[] holidays) => WarrantyBeginning.Begin(
        new("movement", term),
        leaving,
        TestShop.Rules with
        {
            Warranties = new() { Default = "any", RuleSets = [rules] },
            PublicHolidays = new Dictionary<string, ImmutableSortedSet<LocalDate>> { ["shop"] = [.. holidays.Select(FirstDay.PlusDays)] }.ToFrozenDictionary(),
            Calendar = TestShop.Calendar(holidays.Select(day => new Workshop.Core.Shop.Closure(FirstDay.PlusDays(day), FirstDay.PlusDays(day + 3)))),
        });
}
