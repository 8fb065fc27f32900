using System.Collections.Immutable;
using CsCheck;
using NodaTime;
using Workshop.Core.Warranties;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.Core.Warranties;

public class WarrantyArithmeticTests
{
    private static readonly WarrantyOffer Movement = new("movement", Period.FromMonths(24));

    private static readonly WarrantyOffer Water = new("water-resistance", Period.FromMonths(12));

    [Fact]
    public void A_covered_claim_adds_the_days_the_watch_was_in_the_house()
    {
        var line = Lines(Covered(1, ("2026-01-10", "2026-02-02")))[0];

        Assert.Equal(Date("2027-03-14"), line.NominalLastDay);
        Assert.Equal(23, line.ExtensionDays);
        Assert.Equal(Date("2027-04-06"), line.LastDay);
    }

    [Fact]
    public void A_claim_that_is_not_covered_adds_nothing()
    {
        var line = Lines(Covered(1, ("2026-01-10", "2026-02-02")) with { Covered = false })[0];

        Assert.Equal((Date("2027-03-14"), 0), (line.LastDay, line.ExtensionDays));
    }

    [Fact]
    public void A_claim_adds_nothing_before_it_is_decided() =>
        Assert.Equal(0, Lines(Covered(1, ("2026-01-10", "2026-02-02")) with { Covered = null })[0].ExtensionDays);

    [Fact]
    public void A_stay_adds_nothing_before_the_watch_is_returned() =>
        Assert.Equal(0, Lines(Covered(1, ("2026-01-10", null)))[0].ExtensionDays);

    [Fact]
    public void A_claim_adds_days_only_to_the_lines_decided()
    {
        var lines = Lines(Covered(1, ("2026-01-10", "2026-02-02")) with { Lines = ["movement"] });

        Assert.Equal([23, 0], lines.Select(line => line.ExtensionDays));
        Assert.Equal(Date("2026-03-14"), lines[1].LastDay);
    }

    [Fact]
    public void Days_in_the_house_for_two_claims_at_once_count_once() =>
        Assert.Equal(
            30,
            Lines(Covered(1, ("2026-01-10", "2026-02-02")), Covered(2, ("2026-01-20", "2026-02-04")), Covered(3, ("2026-03-01", "2026-03-06")))[0].ExtensionDays);

    [Theory]
    [InlineData("2025-03-13", false)]
    [InlineData("2025-03-14", true)]
    [InlineData("2027-03-14", true)]
    [InlineData("2027-03-15", false)]
    public void The_last_day_is_covered_and_the_day_after_is_not(string on, bool covered) =>
        Assert.Equal(covered, WarrantyArithmetic.Covered(Lines()[0], Date(on)));

    [Fact]
    public void A_term_of_a_year_and_a_month_is_thirteen_months_from_its_start() =>
        Assert.Equal(Date("2025-03-29"), WarrantyArithmetic.LastDay(Date("2024-02-29"), Period.FromYears(1) + Period.FromMonths(1)));

    [Fact]
    public void A_term_in_hours_or_of_nothing_is_no_warranty()
    {
        Assert.Throws<ArgumentException>(() => Begin(new("movement", Period.FromHours(48)), "2025-03-14"));
        Assert.Throws<ArgumentException>(() => Begin(new("movement", Period.Zero), "2025-03-14"));
        Assert.Throws<ArgumentException>(() => Begin(new("movement", Period.FromMonths(-1)), "2025-03-14"));
        Assert.Throws<ArgumentException>(() => Begin(new("movement", Period.FromYears(101)), "2025-03-14"));
        Assert.Throws<ArgumentException>(() => Begin(new("polish", None: true), "2025-03-14"));
    }

    [Fact]
    public void The_line_says_in_words_how_its_last_day_comes_about()
    {
        var lines = Lines(
            Covered(1, ("2026-01-10", "2026-02-02")) with { Lines = ["movement"] },
            Covered(2) with { Covered = false },
            Covered(3, ("2026-05-01", null)) with { Lines = ["movement"] });

        Assert.Equal(
            "24 months from hand-over on 14 March 2025: 14 March 2027 is the last day. "
            + "Claim 1, covered: here from 10 January 2026 to 2 February 2026, 23 days. "
            + "Claim 2 was not covered and adds nothing. "
            + "Claim 3, covered: here since 1 May 2026, which adds nothing until the watch is returned. "
            + "With 23 days in the house the last day is 6 April 2027.",
            lines[0].Why);
        Assert.Equal("12 months from hand-over on 14 March 2025: 14 March 2026 is the last day. Claim 2 was not covered and adds nothing.", lines[1].Why);
    }

    [Fact]
    public void The_line_says_when_a_short_month_cut_the_day()
    {
        var term = Begin(new("movement", Period.FromMonths(6)), "2025-08-31");

        Assert.Equal(
            "6 months from hand-over on 31 August 2025: 28 February 2026 is the last day, the end of that month.",
            WarrantyArithmetic.Lines([term], [])[0].Why);
    }

    [Fact]
    public void The_extension_is_the_number_of_days_on_which_the_watch_was_here_for_any_covered_claim() =>
        Gen.Select(Gen.Int[0, 200], Gen.Int[0, 60], Gen.Int[0, 2]).Array[0, 6].Sample(raw =>
        {
            var start = Date("2026-01-01");
            var claims = raw.Select((one, i) => new WarrantyClaim
            {
                Number = i + 1,
                Covered = one.Item3 switch { 0 => null, 1 => false, _ => true },
                Stays = [new(start.PlusDays(one.Item1), start.PlusDays(one.Item1 + one.Item2))],
            }).ToArray();

            var days = Enumerable.Range(0, 300).Select(start.PlusDays).Count(day =>
                claims.Any(claim => claim.Covered is true && claim.Stays.Any(stay => stay.ReceivedOn <= day && day < stay.ReturnedOn)));

            return Lines(claims)[0].ExtensionDays == days && Lines([.. claims.Reverse()])[0].ExtensionDays == days;
        });

    private static ImmutableArray<WarrantyLine> Lines(params WarrantyClaim[] claims) =>
        WarrantyArithmetic.Lines([Begin(Movement, "2025-03-14"), Begin(Water, "2025-03-14")], claims);

    private static WarrantyTerm Begin(WarrantyOffer offer, string handedOver) =>
        WarrantyBeginning.Begin(offer, new Leaving(HandedOverHow.Collected, Date(handedOver), null), WarrantyRuleSet.BeforeRuleSets);

    private static WarrantyClaim Covered(int number, params (string Received, string? Returned)[] stays) => new()
    {
        Number = number,
        Covered = true,
        Stays = [.. stays.Select(stay => new ClaimStay(Date(stay.Received), stay.Returned is { } returned ? Date(returned) : null))],
    };
}
