using NodaTime;
using Workshop.Core.Route;
using Workshop.Core.Warranties;

namespace Workshop.Tests.Core.Warranties;

/// <summary>Warranty as it begins in a job; the days themselves are proved where they are computed.</summary>
public class WarrantyBookTests
{
    [Fact]
    public void The_lines_of_the_route_begin_with_the_last_piece_and_are_frozen()
    {
        var story = new Story().Through(Stage.HandedOver);
        var on = story.Rules.Calendar.DateOf(story.Now);
        Assert.Equal([("movement", on.PlusMonths(24)), ("water-resistance", on.PlusMonths(12))], story.Job.Warranty.Lines.Select(line => (line.Line, line.LastDay)));
        Assert.NotNull(story.Entries[^1].Judged.Warranty);
    }

    [Fact]
    public void Water_resistance_is_promised_only_when_it_was_tested()
    {
        var story = new Story().Through(Stage.Casing).Does(Story.WearStart(), despite: ["needs/water-test"]).After(Duration.FromHours(24)).Does(Story.WearRead(3)).Finish(Stage.ReserveAndFunctions);
        story.Does(new Workshop.Core.Waivers.WaiverGiven { Gate = "needs/water-test", Reason = "vintage case" }, TestShop.Manager)
            .Does(story.AllChecksOk, TestShop.Jonas).DeskDoes(new StageFinished { Stage = Stage.Settlement }).DeskDoes(story.HandedOver());

        Assert.Equal(["movement"], story.Job.Warranty.Lines.Select(line => line.Line));
    }

    [Fact]
    public void A_covered_claim_adds_its_days_in_the_house_and_a_refused_one_adds_none()
    {
        // Worked example of this workshop: handed over 14 March 2025, 24 months; in the house 10 January to 2 February 2026.
        Assert.Equal(new LocalDate(2027, 4, 6), LastDayAfterClaim(covered: true));
        Assert.Equal(new LocalDate(2027, 3, 14), LastDayAfterClaim(covered: false));
    }

    [Fact]
    public void A_decision_about_one_line_extends_that_line_alone()
    {
        var story = WithClaim().DeskDoes(new ClaimDecided { Claim = 1, Covered = true, Lines = ["movement"], Reason = "a fault of ours" });

        Assert.Equal([new LocalDate(2027, 4, 6), new LocalDate(2026, 3, 14)], story.Job.Warranty.Lines.Select(line => line.LastDay));
    }

    private static LocalDate LastDayAfterClaim(bool covered) =>
        WithClaim().DeskDoes(new ClaimDecided { Claim = 1, Covered = covered, Reason = "looked at" }).Job.Warranty.Lines.Single(line => line.Line == "movement").LastDay;

    private static Story WithClaim()
    {
        var story = new Story(begins: TestShop.Local(2025, 3, 3, 9)).Through(Stage.Ready).At(2025, 3, 14, 11);
        return story.DeskDoes(story.HandedOver()).At(2026, 1, 10, 10)
            .DeskDoes(new ClaimReported { Claim = 1, ReportedOn = new LocalDate(2026, 1, 8), ReceivedOn = new LocalDate(2026, 1, 10), Text = "it loses" })
            .DeskDoes(new ClaimStayRecorded { Claim = 1, ReceivedOn = new LocalDate(2026, 1, 10), ReturnedOn = new LocalDate(2026, 2, 2) });
    }
}
