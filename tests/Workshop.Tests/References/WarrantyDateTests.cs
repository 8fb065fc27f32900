using System.Collections.Frozen;
using System.Collections.Immutable;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Warranties;
using Workshop.Tests.Core;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.References;

/// <summary>Published rules and cases on the end of a period in months; sources and how sure they are: SOURCES.md, "Periods".</summary>
public class WarrantyDateTests
{
    // Germany: the public holidays that the rows below meet. Good Friday and Easter Monday 2026.
    private static readonly string[] Germany = ["2026-04-03", "2026-04-06"];

    // Event day not counted, like-numbered day, end of a short month: Regulation (EEC, Euratom) No 1182/71, art. 3(1), 3(2)(c); BGB 187(1), 188(2), 188(3).
    // The last column rolls over Saturdays, Sundays and public holidays: art. 3(4), BGB 193.
    [Theory]
    [InlineData("2025-01-31", "P1M", "2025-02-28", "2025-02-28")]
    [InlineData("2024-01-31", "P1M", "2024-02-29", "2024-02-29")]
    [InlineData("2025-12-31", "P2M", "2026-02-28", "2026-03-02")]
    [InlineData("2024-02-29", "P12M", "2025-02-28", "2025-02-28")]
    [InlineData("2024-02-29", "P24M", "2026-02-28", "2026-03-02")]
    [InlineData("2024-02-29", "P48M", "2028-02-29", "2028-02-29")]
    [InlineData("2025-08-31", "P6M", "2026-02-28", "2026-03-02")]
    [InlineData("2025-02-28", "P1M", "2025-03-28", "2025-03-28")]
    [InlineData("2025-03-01", "P24M", "2027-03-01", "2027-03-01")]
    // Good Friday: stays where nothing rolls, and is Tuesday after Easter in Germany where it does.
    [InlineData("2025-04-03", "P12M", "2026-04-03", "2026-04-07")]
    // Dodds v Walker [1981] UKHL: four months from 30 September end on 30 January; 31 January was one day late.
    [InlineData("1978-09-30", "P4M", "1979-01-30", "1979-01-30")]
    // Court of Justice, 11 November 2004, C-171/03 Toeters: weeks run from the day of the event.
    [InlineData("1998-03-12", "P3W", "1998-04-02", "1998-04-02")]
    public void A_period_ends_with_the_like_numbered_day_of_its_last_month(string handedOver, string term, string lastDay, string rolled)
    {
        Assert.Equal(Date(lastDay), Line("plain", handedOver, term).LastDay);
        Assert.Equal(Date(rolled), Line("rolls-to-working-day", handedOver, term).LastDay);
    }

    // A period that begins with the beginning of a day: BGB 187(2), 188(2), 188(3), wording from memory; the same idea in UK SI 2018/1082, rule 1.4 (read).
    [Theory]
    [InlineData("2025-03-01", "P24M", "2027-02-28")]
    [InlineData("2025-08-29", "P6M", "2026-02-28")]
    [InlineData("2025-08-30", "P6M", "2026-02-28")]
    [InlineData("2025-08-31", "P6M", "2026-02-28")]
    [InlineData("2024-02-29", "P24M", "2026-02-28")]
    [InlineData("2025-01-31", "P1M", "2025-02-28")]
    [InlineData("2023-03-01", "P12M", "2024-02-29")]
    public void A_period_whose_first_day_counts_ends_on_the_day_before(string first, string term, string lastDay) =>
        Assert.Equal(Date(lastDay), Line("first-day-counts", first, term).LastDay);

    // BGB 187(2) with BGB 193: Sunday, 28 February 2027.
    [Fact]
    public void A_period_whose_first_day_counts_rolls_like_any_other()
    {
        var rules = Preset("first-day-counts") with { Roll = new() { When = RollWhen.WeekendOrHoliday } };

        Assert.Equal(Date("2027-03-01"), Line(rules, "2025-03-01", "P24M").LastDay);
    }

    // BGB 193 (read): it does not hold for a private promise by itself, so that nothing rolls unless the shop says so.
    [Fact]
    public void Nothing_rolls_unless_the_shop_says_so()
    {
        Assert.Equal(RollWhen.Never, WarrantyRuleSet.ShopDefault.Roll.When);
        Assert.Equal(["rolls-to-working-day"], WarrantyPresets.All.Where(preset => preset.RuleSet.Roll.When != RollWhen.Never).Select(preset => preset.Id));
    }

    // Computed: 3 to 24 March 2025 are 21 days as a difference of dates; law differs on whether both end days count.
    [Theory]
    [InlineData("pauses-in-repair", "2025-03-24", 21, "2026-06-22")]
    // France, Code de la consommation, formerly L217-16 (second hand): a stay of at least seven days is added.
    [InlineData("adds-stays-from-seven-days", "2025-03-24", 21, "2026-06-22")]
    [InlineData("adds-stays-from-seven-days", "2025-03-09", 0, "2026-06-01")]
    [InlineData("adds-stays-from-seven-days", "2025-03-10", 7, "2026-06-08")]
    public void Days_in_the_house_from_3_March_move_1_June(string preset, string returned, int days, string lastDay)
    {
        var line = Line(Preset(preset), "2024-06-01", "P24M", Claim(1, "2025-03-03", returned));

        Assert.Equal((Date("2026-06-01"), days, Date(lastDay)), (line.NominalLastDay, line.ExtensionDays, line.LastDay));
    }

    // Directive (EU) 2024/1799 (second hand): repair instead of replacement adds twelve months to the seller's liability; only once: from memory.
    [Fact]
    public void Twelve_months_are_added_once()
    {
        var one = Claim(1, "2027-02-01", "2027-02-15");

        Assert.Equal(Date("2028-09-15"), Line("adds-twelve-months-once", "2026-09-15", "P24M").LastDay);
        Assert.Equal(Date("2029-09-15"), Line(Preset("adds-twelve-months-once"), "2026-09-15", "P24M", one).LastDay);
        Assert.Equal(Date("2029-09-15"), Line(Preset("adds-twelve-months-once"), "2026-09-15", "P24M", one, Claim(2, "2028-03-01", "2028-03-20")).LastDay);
    }

    // Common practice, no source: handed over 14 March 2025, 24 months, in the house from 10 January to 2 February 2026.
    [Fact]
    public void Twenty_three_days_in_the_house_move_14_March_to_6_April() =>
        Assert.Equal(Date("2027-04-06"), Line(WarrantyRuleSet.ShopDefault, "2025-03-14", "P24M", Claim(1, "2026-01-10", "2026-02-02")).LastDay);

    internal static WarrantyLine Line(string preset, string from, string term) => Line(Preset(preset), from, term);

    private static WarrantyLine Line(WarrantyRuleSet rules, string from, string term, params WarrantyClaim[] claims)
    {
        var shop = TestShop.Rules with
        {
            Warranties = new() { Default = rules.Id, RuleSets = [rules] },
            PublicHolidays = new Dictionary<string, ImmutableSortedSet<LocalDate>> { [RollRules.ShopCalendar] = [.. Germany.Select(Date)] }.ToFrozenDictionary(),
        };
        var begun = WarrantyBeginning.Begin(new("movement", PeriodPattern.NormalizingIso.Parse(term).Value), new Leaving(HandedOverHow.Collected, Date(from), null), shop);
        return WarrantyArithmetic.Lines([begun], claims)[0];
    }

    private static WarrantyRuleSet Preset(string id) => WarrantyPresets.All.Single(preset => preset.Id == id).RuleSet;

    private static WarrantyClaim Claim(int number, string received, string returned) =>
        new() { Number = number, Covered = true, ReportedOn = Date(received), Stays = [new(Date(received), Date(returned))] };
}
