using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Promises;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Intake;

public class AdoptedJobTests
{
    private static readonly LocalDate Came = new(2026, 1, 12);

    [Fact]
    public void What_the_route_has_before_the_stage_of_adoption_stands_as_before_our_records()
    {
        var story = AdoptedAt(Stage.Rebuild);

        Assert.All(
            (Stage[])[Stage.Intake, Stage.Diagnosis, Stage.Quote, Stage.Queue, Stage.Takedown, Stage.Cleaning, Stage.Inspection],
            stage => Assert.Equal(StageState.BeforeOurRecords, story[stage]));
        Assert.All((Stage[])[Stage.Rebuild, Stage.Regulation, Stage.CaseStrip, Stage.FinalControl], stage => Assert.Equal(StageState.Open, story[stage]));
        Assert.Equal(Stage.Rebuild, story.Job.Standings.Current);
    }

    [Fact]
    public void Stages_before_our_records_fulfil_what_later_ones_need_without_a_waiver()
    {
        var story = AdoptedAt(Stage.Rebuild);

        story.Start(Stage.Rebuild).Finish(Stage.Rebuild);

        Assert.Empty(story.Entries[^1].Judged.Passing);
        Assert.Equal(StageState.Done, story[Stage.Rebuild]);
        Assert.Empty(story.Job.Waivers.OpenAt(story.Now));
    }

    [Fact]
    public void An_adopted_job_goes_on_to_its_hand_over()
    {
        var story = AdoptedAt(Stage.Casing).Through(Stage.HandedOver);

        Assert.True(story.Job.Standings.HandedOver);
        Assert.Equal(StageState.BeforeOurRecords, story[Stage.Rebuild]);
    }

    [Fact]
    public void Who_rebuilt_it_before_our_records_is_not_known_so_that_anybody_may_control_it()
    {
        var story = AdoptedAt(Stage.FinalControl);

        story.Does(story.AllChecksOk, TestShop.Mara);

        Assert.Equal(StageState.Done, story[Stage.FinalControl]);
    }

    [Fact]
    public void Regulation_still_wants_a_rate_set_although_the_rebuild_was_before_our_records()
    {
        var story = AdoptedAt(Stage.Regulation);

        Assert.Equal("rate-set-since-touch", story.RefusedBy(new StageFinished { Stage = Stage.Regulation }).Gate);
        story.Does(Story.RateSet).Finish(Stage.Regulation);
    }

    [Fact]
    public void At_casing_numbers_nobody_had_written_down_are_set_by_their_first_reading()
    {
        var story = AdoptedAt(Stage.Casing, serial: null);

        story.Does(story.Closing("K 12"));

        Assert.Equal("K 12", story.Job.Case.CaseSerial);
        Assert.Equal(StageState.Done, story[Stage.Casing]);
    }

    [Fact]
    public void A_water_test_before_our_records_is_no_evidence_and_begins_no_warranty_of_its_own()
    {
        var adopted = AdoptedAt(Stage.WearCheck).Through(Stage.HandedOver);
        var tested = AdoptedAt(Stage.WearCheck).Does(Story.WaterTest()).Through(Stage.HandedOver);

        Assert.DoesNotContain(adopted.Job.Warranty.Terms, term => term.Line == "water-resistance");
        Assert.Contains(tested.Job.Warranty.Terms, term => term.Line == "water-resistance");
        Assert.Equal(StageState.Done, tested[Stage.WaterTest]);
    }

    [Fact]
    public void The_case_of_a_watch_adopted_after_casing_counts_as_closed()
    {
        Assert.True(AdoptedAt(Stage.WearCheck).Job.Case.Closed);
        Assert.False(AdoptedAt(Stage.Casing).Job.Case.Closed);
    }

    [Fact]
    public void Work_on_the_open_movement_opens_the_case_of_a_watch_adopted_after_casing()
    {
        var story = AdoptedAt(Stage.WearCheck).SendBack(Stage.WearCheck, Stage.Regulation).Start(Stage.Regulation);

        Assert.False(story.Job.Case.Closed);
        Assert.Equal(StageState.Void, story[Stage.Casing]);
        Assert.Equal(StageState.BeforeOurRecords, story[Stage.Rebuild]);
    }

    [Fact]
    public void What_was_before_our_records_can_be_sent_back_and_is_done_again()
    {
        var story = AdoptedAt(Stage.Casing).SendBack(Stage.Casing, Stage.Inspection);

        Assert.Equal(StageState.Void, story[Stage.Inspection]);
        Assert.Equal(StageState.Void, story[Stage.Rebuild]);
        Assert.Equal(StageState.BeforeOurRecords, story[Stage.Cleaning]);
        story.Finish(Stage.Inspection);
        Assert.Equal(StageState.Done, story[Stage.Inspection]);
    }

    [Fact]
    public void Beginning_a_stage_that_was_before_our_records_wants_it_sent_back_first() =>
        Assert.Equal("not-yet-sent-back", AdoptedAt(Stage.Rebuild).RefusedBy(new StageStarted { Stage = Stage.Takedown }).Gate);

    [Fact]
    public void A_promise_of_the_paper_book_stands_as_it_was_said()
    {
        var told = new LocalDate(2026, 4, 18);
        var story = AdoptedAt(Stage.Rebuild, promisedOn: told);

        // A Saturday: nobody computes it anew.
        Assert.Equal(told, story.Job.Promise.On);
        Assert.IsType<PromiseGiven>(story.Entries[^1].Event);
        Assert.Equal(Came, story.Job.Promise.Given!.ApprovedOn);
        Assert.True(story.Job.Promise.Given.BeforeOurRecords);
    }

    [Fact]
    public void A_promise_of_the_paper_book_moves_with_the_clock_that_stood_still_since()
    {
        var story = AdoptedAt(Stage.Rebuild, promisedOn: new LocalDate(2026, 4, 17));
        story.DeskDoes(new HoldPlaced { Hold = HoldReason.Customer, Reason = "we wait for the strap" });
        story.At(2026, 3, 5, 10).DeskDoes(new HoldLifted { Hold = HoldReason.Customer });

        // Monday to Thursday: three open days.
        Assert.Equal(new LocalDate(2026, 4, 22), story.Job.Promise.On);
    }

    [Fact]
    public void Nothing_is_promised_for_an_adopted_job_whose_customer_was_told_no_date() => Assert.Null(AdoptedAt(Stage.Rebuild).Job.Promise.On);

    [Fact]
    public void What_the_customer_had_agreed_to_stays_agreed_when_supplementary_work_is_refused()
    {
        var story = AdoptedAt(Stage.Rebuild);
        story.DeskDoes(story.Quote());
        Assert.True(story.Job.Holds.Holds(HoldReason.Approval));

        story.DeskDoes(Story.Answer(accepted: false));

        Assert.False(story.Job.Standings.ReturnsUnrepaired);
        Assert.False(story.Job.Holds.Holds(HoldReason.Approval));
        Assert.Equal(StageState.BeforeOurRecords, story[Stage.Quote]);
    }

    [Fact]
    public void A_job_adopted_before_its_quote_is_quoted_as_any_other()
    {
        var story = AdoptedAt(Stage.Diagnosis).Finish(Stage.Diagnosis);
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false));

        Assert.True(story.Job.Standings.ReturnsUnrepaired);
    }

    [Fact]
    public void A_watch_that_waits_for_its_customer_is_adopted_as_ready()
    {
        var story = AdoptedAt(Stage.Ready);
        Assert.True(story.Job.Standings.IsReady);

        story.DeskDoes(story.HandedOver());

        Assert.True(story.Job.Standings.HandedOver);
    }

    [Theory]
    [InlineData(Stage.Intake, "2026-01-12", null, null, "/adopted/at")]
    [InlineData(Stage.ReturnUnrepaired, "2026-01-12", null, null, "/adopted/at")]
    [InlineData(Stage.Rebuild, "2026-03-03", null, null, "/adopted/takenInOn")]
    [InlineData(Stage.Rebuild, "2026-01-12", "2026-01-11", null, "/adopted/promisedOn")]
    [InlineData(Stage.Rebuild, "2026-01-12", null, -1L, "/adopted/quotedMinor")]
    public void What_cannot_be_so_is_named(Stage at, string takenInOn, string? promisedOn, long? quotedMinor, string pointer)
    {
        var adopted = new Adopted
        {
            At = at,
            TakenInOn = NodaTime.Text.LocalDatePattern.Iso.Parse(takenInOn).Value,
            PromisedOn = promisedOn is null ? null : NodaTime.Text.LocalDatePattern.Iso.Parse(promisedOn).Value,
            QuotedMinor = quotedMinor,
        };

        Assert.Equal(pointer, Assert.Single(adopted.Faults(TestShop.FullAutomatic, new LocalDate(2026, 3, 2))).Pointer);
    }

    [Fact]
    public void An_optional_stage_before_the_adoption_is_left_untouched()
    {
        var route = TestShop.FullAutomatic with
        {
            Stages = [.. TestShop.FullAutomatic.Stages.Select(one => one.Stage == Stage.Cleaning ? one with { Optional = true } : one)],
        };
        var story = new Story(route, taken: Taken(Stage.Rebuild, null, Story.CaseSerial));

        Assert.Equal(StageState.Open, story[Stage.Cleaning]);
        story.Finish(Stage.Rebuild);
        Assert.Equal(StageState.Done, story[Stage.Rebuild]);
    }

    private static Story AdoptedAt(Stage at, LocalDate? promisedOn = null, string? serial = Story.CaseSerial) => new(taken: Taken(at, promisedOn, serial));

    private static JobTakenIn Taken(Stage at, LocalDate? promisedOn, string? serial) => new()
    {
        Variant = "full-automatic",
        Customer = "customer-1",
        Watch = "watch-1",
        CaseSerial = serial,
        Adopted = new Adopted { TakenInOn = Came, At = at, PromisedOn = promisedOn, OwnNumber = "A-218", QuotedMinor = 65000 },
    };
}
