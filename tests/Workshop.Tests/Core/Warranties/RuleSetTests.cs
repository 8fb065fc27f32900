using System.Collections.Frozen;
using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Shop;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.Core.Warranties;

/// <summary>What each rule of a rule set does to a last day. Figures: common practice, unless a source stands beside them.</summary>
public class RuleSetTests
{
    private static readonly WarrantyRuleSet Default = WarrantyRuleSet.ShopDefault;

    [Fact]
    public void A_stay_shorter_than_the_least_adds_nothing_and_says_so()
    {
        var rules = Preset("adds-stays-from-seven-days") with { NewWork = null };

        var six = Line(rules, Claim(1, "2026-01-10", "2026-01-16"));
        var seven = Line(rules, Claim(1, "2026-01-10", "2026-01-17"));

        Assert.Equal(("2027-03-14", "2027-03-21"), (Iso(six.LastDay), Iso(seven.LastDay)));
        Assert.Equal("Claim 1, covered: here from 10 January 2026 to 16 January 2026, 6 days; less than 7 days add nothing.", six.Steps[^1].ToString());
    }

    [Fact]
    public void Both_end_days_may_count()
    {
        var rules = Default with { Extension = new() { BothEndDays = true }, NewWork = null };

        Assert.Equal(24, Line(rules, Claim(1, "2026-01-10", "2026-02-02")).ExtensionDays);
        Assert.Equal(1, Line(rules, Claim(1, "2026-01-10", "2026-01-10")).ExtensionDays);

        // The 2nd of February belongs to both and counts once.
        Assert.Equal(31, Line(rules, Claim(1, "2026-01-10", "2026-02-02"), Claim(2, "2026-02-02", "2026-02-09")).ExtensionDays);
    }

    [Fact]
    public void A_fixed_term_is_added_by_the_first_claim_alone_or_by_each()
    {
        var once = Preset("adds-twelve-months-once") with { NewWork = null };
        var each = once with { Extension = once.Extension with { Once = false } };
        var claims = new[] { Claim(1, "2026-01-10", "2026-02-02"), Claim(2, "2026-05-10", "2026-05-12") };

        Assert.Equal("2028-03-14", Iso(Line(once, claims).LastDay));
        Assert.Equal("2029-03-14", Iso(Line(each, claims).LastDay));
        Assert.Equal("2027-03-14", Iso(Line(once, Claim(1, "2026-01-10", null)).LastDay));
        Assert.Equal("The first covered claim adds 12 months, once: the last day is 14 March 2028.", Line(once, claims).Steps[^1].ToString());
    }

    [Fact]
    public void A_fixed_term_comes_before_days_and_is_counted_from_the_start()
    {
        var rules = Default with { Extension = new() { Rule = ExtensionRule.DaysInHouse, Fixed = Period.FromMonths(6), Once = true }, NewWork = null };
        var line = Line(rules, Begin(rules, "2025-08-31", 6), Claim(1, "2025-10-01", "2025-10-11"));

        // 12 months from 31 August are 31 August; six months on from the nominal 28 February would be the 28th.
        Assert.Equal(("2026-02-28", "2026-09-10"), (Iso(line.NominalLastDay), Iso(line.LastDay)));
    }

    [Fact]
    public void The_rule_none_adds_nothing_and_claims_that_are_not_covered_add_only_where_the_rule_says_so()
    {
        var uncovered = Claim(1, "2026-01-10", "2026-02-02") with { Covered = false };

        Assert.Equal(0, Line(Default with { Extension = new() { Rule = ExtensionRule.None }, NewWork = null }, Claim(1, "2026-01-10", "2026-02-02")).ExtensionDays);
        Assert.Equal(0, Line(Default, uncovered).ExtensionDays);
        Assert.Equal(23, Line(Default with { Extension = new() { OnlyIfCovered = false } }, uncovered).ExtensionDays);
        Assert.Equal(0, Line(Default with { Extension = new() { OnlyIfCovered = false } }, uncovered with { Goodwill = "magnetism-removed" }).ExtensionDays);
    }

    [Fact]
    public void Days_count_although_the_stay_lies_after_the_last_day_when_the_report_was_in_time()
    {
        var line = Line(Default with { NewWork = null }, Claim(1, "2027-03-20", "2027-04-03") with { ReportedOn = Date("2027-03-14") });

        Assert.Equal("2027-03-28", Iso(line.LastDay));
    }

    [Fact]
    public void New_work_has_months_of_its_own_where_they_end_later()
    {
        var early = Line(Default, Claim(1, "2026-01-10", "2026-02-02"));
        var late = Line(Default, Claim(1, "2027-03-01", "2027-03-10"));

        Assert.Equal(("2027-04-06", "2026-08-02"), (Iso(early.LastDay), Iso(early.NewWorkLastDay!.Value)));
        Assert.Equal(("2027-09-10", 9), (Iso(late.LastDay), late.ExtensionDays));
        Assert.Equal("The work of claim 1 has 6 months of its own, to 2 August 2026, which is no later.", early.Steps[^1].ToString());
        Assert.Equal("The work of claim 1, returned on 10 March 2027, has 6 months of its own: 10 September 2027 is later and counts.", late.Steps[^1].ToString());
        Assert.Null(Line(Default, Claim(1, "2026-01-10", "2026-02-02") with { Covered = false }).NewWorkLastDay);
        Assert.Equal(Date("2026-08-02"), WarrantyArithmetic.NewWorkLastDay(Default, Date("2026-02-02")));
    }

    [Fact]
    public void A_report_counts_if_the_watch_comes_within_thirty_days_and_else_the_day_it_comes_does()
    {
        var inTime = Claim(1, "2027-04-13", "2027-04-20") with { ReportedOn = Date("2027-03-14") };
        var late = inTime with { Stays = [new(Date("2027-04-14"), Date("2027-04-20"))] };
        var lateButRunning = Claim(1, "2026-03-12", "2026-03-20") with { ReportedOn = Date("2026-01-08") };

        Assert.Equal(Date("2027-03-14"), inTime.DayThatCounts(Default.Claim));
        Assert.Equal(Date("2027-04-14"), late.DayThatCounts(Default.Claim));
        Assert.Equal("2027-10-20", Iso(Line(Default, inTime).LastDay));
        Assert.Equal(("2027-03-14", 0), (Iso(Line(Default, late).LastDay), Line(Default, late).ExtensionDays));
        Assert.Equal(
            [
                "Claim 1 was reported on 14 March 2027, but the watch came on 14 April 2027, more than 30 days later: that report covers nothing.",
                "On the day it came claim 1 was no longer in time and adds nothing.",
            ],
            Line(Default, late).Steps[1..].Select(step => step.ToString()));
        Assert.Equal(8, Line(Default, lateButRunning).ExtensionDays);
        Assert.Contains("For claim 1 the day it came counts.", Line(Default, lateButRunning).Why);
    }

    [Fact]
    public void A_claim_that_is_covered_before_the_watch_came_says_by_when_it_has_to_come() =>
        Assert.Equal("Claim 1 is covered if the watch arrives by 7 February 2026.", Line(Default, Claim(1) with { ReportedOn = Date("2026-01-08") }).Steps[^1].ToString());

    [Fact]
    public void A_last_day_rolls_over_the_shops_closed_days_as_they_were_known_at_hand_over()
    {
        // 14 March 2027 is a Sunday; the shop is shut on the Monday and open on the Saturday after it.
        var rules = Default with { Roll = new() { When = RollWhen.ClosedDay } };
        var calendar = new ShopCalendar(
            DateTimeZoneProviders.Tzdb["Europe/Zurich"], Week(Hours("09:00", "18:00")), [new Closure(Date("2027-03-15"), Date("2027-03-19"), "stocktaking")],
            new Dictionary<LocalDate, ImmutableArray<OpenSpan>> { [Date("2027-03-20")] = Hours("09:00", "12:00") });
        var line = Line(rules, Begin(rules, "2025-03-14", 24, calendar));

        Assert.Equal(("2027-03-14", "2027-03-20"), (Iso(line.NominalLastDay), Iso(line.LastDay)));
        Assert.Equal("On Sunday 14 March 2027 the workshop is closed, so that Saturday 20 March 2027 is the last day.", line.Steps[^1].ToString());
        Assert.Equal(Date("2027-03-22"), Begin(rules, "2025-03-14", 24, calendar).DaysOff!.Roll(Date("2027-03-21")));
    }

    [Fact]
    public void A_last_day_rolls_over_weekends_and_the_holidays_of_a_region()
    {
        // Good Friday and Easter Monday of 2026: 3 and 6 April.
        var rules = Default with { Roll = new() { When = RollWhen.WeekendOrHoliday, Calendar = "DE" } };
        var term = Begin(rules, "2025-04-03", 12, holidays: ("DE", ["2026-04-03", "2026-04-06", "2028-12-25"]));
        var line = Line(rules, term);

        Assert.Equal(("2026-04-03", "2026-04-07"), (Iso(line.NominalLastDay), Iso(line.LastDay)));
        Assert.Equal("Friday 3 April 2026 is a public holiday, so that Tuesday 7 April 2026 is the last day.", line.Steps[^1].ToString());
        Assert.Equal("Freitag, 3. April 2026 ist ein Feiertag; damit ist Dienstag, 7. April 2026 der letzte Tag.", line.Steps[^1].In(Language.German));
        Assert.Equal("2026-04-20", Iso(Line(rules, Begin(rules, "2025-04-18", 12, holidays: ("DE", []))).LastDay));
        Assert.Equal("Public holidays were not known at hand-over; weekends alone were looked at.", Line(rules, Begin(rules, "2025-04-03", 12, holidays: ("AT", ["2026-04-06"]))).Steps[^1].ToString());
    }

    [Fact]
    public void What_an_extension_reaches_beyond_the_known_calendar_is_said()
    {
        var rules = Default with { Roll = new() { When = RollWhen.WeekendOrHoliday, Calendar = "DE" }, NewWork = null };
        var line = Line(rules, Begin(rules, "2025-03-14", 12, holidays: ("DE", ["2026-05-01"])), Claim(1, "2025-04-01", "2026-04-01"));

        Assert.Equal("2027-03-15", Iso(line.LastDay));
        Assert.Equal("At hand-over the calendar was known through 31 December 2026; after it weekdays alone were looked at.", line.Steps[^1].ToString());
    }

    [Fact]
    public void New_work_is_compared_after_rolling()
    {
        var rules = Default with { Roll = new() { When = RollWhen.WeekendOrHoliday } };
        var line = Line(rules, Begin(rules, "2025-03-14", 24, holidays: ("shop", ["2027-03-15"])), Claim(1, "2026-09-16", "2026-09-16"));

        // Sunday 14 March rolls over the holiday to Tuesday the 16th, as late as the new work's own six months.
        Assert.Equal(("2027-03-16", "2027-03-16"), (Iso(line.LastDay), Iso(line.NewWorkLastDay!.Value)));
        Assert.EndsWith("which is no later.", line.Why);
    }

    [Fact]
    public void Every_preset_is_a_rule_set_that_holds_and_says_where_it_comes_from()
    {
        Assert.Equal(
            ["plain", "first-day-counts", "rolls-to-working-day", "pauses-in-repair", "adds-stays-from-seven-days", "adds-twelve-months-once"], WarrantyPresets.All.Select(preset => preset.Id));
        Assert.All(WarrantyPresets.All, preset => Assert.Empty(preset.RuleSet.Faults("")));
        Assert.All(WarrantyPresets.All, preset => Assert.NotEmpty(preset.Sources));
        Assert.All(WarrantyPresets.All, preset => Assert.Equal("Statutory rights may give more than this; local law decides.", preset.RuleSet.SentenceIn(Language.English)));
        Assert.Equal(Default, Preset("plain") with { Id = Default.Id, Basis = Default.Basis });
        Assert.Equal(Period.FromMonths(12), Preset("pauses-in-repair").NewWork!.Least);
    }

    [Fact]
    public void A_rule_set_that_cannot_be_is_named_with_every_fault()
    {
        var wrong = Default with
        {
            Start = new() { NotCollectedAfterReady = Period.FromHours(3), PresumedDeliveredAfterDispatch = Period.FromDays(-1) },
            Roll = new() { When = RollWhen.ClosedDay, Calendar = "DE" },
            Claim = new() { WatchArrivesWithin = Period.FromYears(11), DecideWithin = Duration.Zero },
            Extension = new() { Rule = ExtensionRule.Fixed },
            NewWork = new() { Least = Period.Zero },
        };
        var rules = new WarrantyRules { Default = "plain", RuleSets = [Default, wrong] };

        Assert.Equal(
            [
                "/warranties/default", "/warranties/ruleSets/1/id", "/warranties/ruleSets/1/start/notCollectedAfterReady", "/warranties/ruleSets/1/start/presumedDeliveredAfterDispatch",
                "/warranties/ruleSets/1/roll/calendar", "/warranties/ruleSets/1/claim/watchArrivesWithin", "/warranties/ruleSets/1/claim/decideWithin",
                "/warranties/ruleSets/1/extension/fixed", "/warranties/ruleSets/1/newWork/least",
            ],
            rules.Faults("/warranties").Select(fault => fault.Pointer));
        Assert.Empty(WarrantyRules.Usual.Faults("/warranties"));
        Assert.Single((Default with { Extension = new() { Rule = ExtensionRule.None, Fixed = Period.FromMonths(12) } }).Faults(""));
        Assert.Single((Default with { Extension = new() { Rule = ExtensionRule.Fixed, Fixed = Period.FromHours(12) } }).Faults(""));
    }

    [Fact]
    public void A_line_names_its_own_rule_set_and_one_the_shop_lacks_is_told()
    {
        var rules = new WarrantyRules { RuleSets = [Default, Preset("first-day-counts")] };
        var route = TestShop.FullAutomatic with { Warranty = [new("movement", Period.FromMonths(24), Rules: "first-day-counts"), new("rate", Period.FromMonths(3), Rules: "rolls")] };

        Assert.Equal(["first-day-counts", "shop-default", "shop-default"], new[] { "first-day-counts", "rolls", null }.Select(id => rules.Of(id).Id));
        Assert.Equal(["/warranty/1/rules"], rules.Unknown(route).Select(fault => fault.Pointer));
    }

    [Fact]
    public void A_line_of_a_kind_of_work_has_a_name_and_a_term_or_is_expressly_none()
    {
        Assert.Empty(new WarrantyOffer("rate", Period.FromMonths(3), Text: "one re-adjustment").Faults(""));
        Assert.Empty(new WarrantyOffer("polish", None: true, Text: "none on polish").Faults(""));
        Assert.Equal(["/line", "/term"], new WarrantyOffer(" ").Faults("").Select(fault => fault.Pointer));
        Assert.Equal(["/term"], new WarrantyOffer("movement", Period.FromHours(5)).Faults("").Select(fault => fault.Pointer));
        Assert.Equal(["/term"], new WarrantyOffer("movement", Period.FromMonths(5), None: true).Faults("").Select(fault => fault.Pointer));
        Assert.Equal(["/text"], new WarrantyOffer("movement", Period.FromMonths(5), Text: new string('a', 401)).Faults("").Select(fault => fault.Pointer));
    }

    internal static WarrantyRuleSet Preset(string id) => WarrantyPresets.All.Single(preset => preset.Id == id).RuleSet;

    private static WarrantyLine Line(WarrantyRuleSet rules, params WarrantyClaim[] claims) => Line(rules, Begin(rules, "2025-03-14", 24), claims);

    private static WarrantyLine Line(WarrantyRuleSet rules, WarrantyTerm term, params WarrantyClaim[] claims)
    {
        Assert.Equal(rules, term.CountedBy);
        return WarrantyArithmetic.Lines([term], claims)[0];
    }

    private static WarrantyTerm Begin(WarrantyRuleSet rules, string handedOver, int months, ShopCalendar? calendar = null, (string Region, string[] Dates)? holidays = null)
    {
        var shop = TestShop.Rules with
        {
            Warranties = new WarrantyRules { Default = rules.Id, RuleSets = [rules] },
            Calendar = calendar ?? TestShop.Rules.Calendar,
            PublicHolidays = holidays is { } known
                ? new Dictionary<string, ImmutableSortedSet<LocalDate>> { [known.Region] = [.. known.Dates.Select(Date)] }.ToFrozenDictionary()
                : FrozenDictionary<string, ImmutableSortedSet<LocalDate>>.Empty,
        };
        return WarrantyBeginning.Begin(new("movement", Period.FromMonths(months)), new Leaving(HandedOverHow.Collected, Date(handedOver), null), shop);
    }

    private static WarrantyClaim Claim(int number) => new() { Number = number, Covered = true };

    private static WarrantyClaim Claim(int number, string received, string? returned) =>
        Claim(number) with { Stays = [new ClaimStay(Date(received), returned is null ? null : Date(returned))] };

    private static string Iso(LocalDate day) => NodaTime.Text.LocalDatePattern.Iso.Format(day);
}
