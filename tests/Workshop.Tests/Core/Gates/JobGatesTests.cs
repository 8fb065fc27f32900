using NodaTime;
using Workshop.Core.FinalControls;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Gates;

public class JobGatesTests
{
    [Fact]
    public void Every_need_of_a_route_is_asked_at_start_and_finish_with_the_strength_the_route_gives_it()
    {
        foreach (var planned in TestShop.FullAutomatic.Stages.Where(one => StageTable.CanBeTold(one.Stage)))
        {
            foreach (WorkshopEvent one in new WorkshopEvent[] { new StageStarted { Stage = planned.Stage }, new StageFinished { Stage = planned.Stage } })
            {
                // Intake always stands; diagnosis asks for nothing else.
                var expected = planned.Needs.Where(need => need.Stage != Stage.Intake).Select(need => ($"needs/{Word.Of(need.Stage)}", need.Stop ? Strength.Stop : Strength.Ask));
                var against = new Story().Says(one).Against.Where(gate => gate.Gate.StartsWith("needs/", StringComparison.Ordinal));
                Assert.Equal(expected.Order(), against.Select(gate => (gate.Gate, gate.Strength)).Order());
            }
        }
    }

    [Fact]
    public void A_running_stage_is_asked_for_its_needs_again_when_it_ends()
    {
        var story = new Story().Through(Stage.Takedown).Start(Stage.Cleaning).SendBack(Stage.Cleaning, Stage.Takedown);
        story.Does(new StageStarted { Stage = Stage.Cleaning }, despite: ["needs/takedown"]);

        Assert.Equal("needs/takedown", story.RefusedBy(new StageFinished { Stage = Stage.Cleaning }).Gate);
    }

    [Fact]
    public void A_tap_passes_what_asks_and_is_kept_with_the_name()
    {
        var story = new Story().Through(Stage.Quote).Finish(Stage.Takedown);
        story.Does(new StageStarted { Stage = Stage.Inspection }, despite: ["needs/cleaning"]);

        Assert.Equal(("needs/cleaning", TestShop.Mara), (Assert.Single(story.Entries[^1].Judged.Passing), story.Entries[^1].Person));
    }

    [Fact]
    public void A_tap_does_not_pass_what_stops()
    {
        var story = new Story().Through(Stage.Diagnosis);
        var against = story.Refused(new StageStarted { Stage = Stage.Rebuild }, despite: ["needs/inspection", "needs/quote"]);

        Assert.Equal(["needs/quote"], against.Select(gate => gate.Gate));
        Assert.Equal(Strength.Stop, against[0].Strength);
    }

    [Fact]
    public void A_tap_on_a_gate_that_passes_anyway_leaves_no_trace()
    {
        var story = new Story().Does(new StageStarted { Stage = Stage.Diagnosis }, despite: ["needs/intake", "needs/quote"]);

        Assert.Empty(story.Entries[^1].Judged.Passing);
    }

    [Fact]
    public void Nobody_sends_back_to_what_does_not_come_earlier()
    {
        var story = new Story().Through(Stage.Casing);

        Assert.Equal("in-route", story.RefusedBy(new StageSentBack { Stage = Stage.Rebuild, To = Stage.Regulation, Reason = "?" }).Gate);
        Assert.Equal("in-route", story.RefusedBy(new StageSentBack { Stage = Stage.Rebuild, To = Stage.Rebuild, Reason = "?" }).Gate);
        story.SendBack(Stage.Takedown, Stage.Diagnosis);
    }

    [Theory]
    [InlineData(Stage.ReturnUnrepaired)]
    public void A_stage_that_the_route_lacks_is_neither_started_nor_finished(Stage stage)
    {
        var story = new Story();

        Assert.Equal(("in-route", Strength.Stop), Of(story.RefusedBy(new StageStarted { Stage = stage }, despite: ["in-route"])));
        Assert.Equal("in-route", story.RefusedBy(new StageFinished { Stage = stage }).Gate);
    }

    [Fact]
    public void A_stage_that_is_done_is_sent_back_before_it_is_started_again()
    {
        var story = new Story().Through(Stage.Cleaning);
        Assert.Equal(("not-yet-sent-back", Strength.Stop), Of(story.RefusedBy(new StageStarted { Stage = Stage.Cleaning }, despite: ["not-yet-sent-back"])));

        story.SendBack(Stage.Inspection, Stage.Cleaning).Start(Stage.Cleaning);
    }

    [Theory]
    [InlineData(Stage.Casing, "case.closed")]
    [InlineData(Stage.WaterTest, "water-test.recorded")]
    [InlineData(Stage.WearCheck, "wear-check.read")]
    [InlineData(Stage.FinalControl, "final-control.passed")]
    public void A_stage_that_ends_by_a_result_is_not_told_done(Stage stage, string type)
    {
        var story = new Story().Through(Stage.DialAndHands);
        var against = story.Refused(new StageFinished { Stage = stage });

        Assert.Equal(("finished-by-result", Strength.Stop), Of(against[0]));
        Assert.Equal(type, against[0].Names["event"]);
    }

    [Fact]
    public void A_second_person_at_a_stage_is_asked()
    {
        var story = new Story().Start(Stage.Diagnosis);
        var gate = story.RefusedBy(new StageStarted { Stage = Stage.Diagnosis }, TestShop.Jonas);
        Assert.Equal(("nobody-else-at-it", Strength.Ask), Of(gate));
        Assert.Equal(TestShop.Mara, gate.Names["who"]);

        story.Does(new StageStarted { Stage = Stage.Diagnosis }, TestShop.Jonas, despite: ["nobody-else-at-it"]);
        Assert.Equal([TestShop.Jonas, TestShop.Mara], story.Job.Standings.Of(Stage.Diagnosis).At);
        story.Finish(Stage.Diagnosis, TestShop.Jonas);
    }

    [Fact]
    public void The_declared_value_is_asked_for_at_takedown_and_stops_it_anything_else_only_asks()
    {
        var story = new Story(taken: new JobTakenIn
        {
            Variant = "full-automatic",
            Customer = "c",
            Watch = "w",
            Missing = [new MissingMember(IntakeMember.DeclaredValue, Stage.Takedown), new MissingMember(IntakeMember.Polish, Stage.CaseStrip)],
        }).Through(Stage.Quote);

        Assert.Equal(("intake/declaredValue", Strength.Stop), Of(story.RefusedBy(new StageStarted { Stage = Stage.Takedown }, despite: ["intake/declaredValue"])));
        Assert.Equal(("intake/polish", Strength.Ask), Of(story.RefusedBy(new StageFinished { Stage = Stage.CaseStrip })));

        story.DeskDoes(new IntakeCompleted { Known = [IntakeMember.DeclaredValue] }).Start(Stage.Takedown);
        story.Does(new StageStarted { Stage = Stage.CaseStrip }, despite: ["intake/polish"]);
    }

    [Fact]
    public void A_watch_that_was_handed_over_is_asked_for_in_vain()
    {
        var story = new Story().Through(Stage.HandedOver);

        Assert.Contains("handed-over", story.Refused(new StageStarted { Stage = Stage.Diagnosis }).Select(gate => gate.Gate));
        Assert.Contains("handed-over", story.Refused(new PieceTaken()).Select(gate => gate.Gate));
        Assert.Contains("handed-over", story.Refused(new PieceGiven { To = "people/jonas" }).Select(gate => gate.Gate));
        Assert.Contains("handed-over", story.Refused(new PiecePut { To = "places/safe" }).Select(gate => gate.Gate));
        Assert.Contains("handed-over", story.Refused(Story.WearStart()).Select(gate => gate.Gate));
        Assert.Contains("handed-over", story.Refused(story.AllChecksOk, TestShop.Jonas).Select(gate => gate.Gate));
        Assert.Contains("handed-over", story.Refused(story.Closing()).Select(gate => gate.Gate));
        Assert.Contains("handed-over", story.Refused(story.HandedOver(), TestShop.Desk).Select(gate => gate.Gate));
        Assert.Contains("handed-over", story.Refused(story.Quote(2), TestShop.Desk).Select(gate => gate.Gate));
        Assert.All(story.Job.Pieces.Pieces, piece => Assert.Equal(Piece.Customer, piece.Holder));
    }

    [Fact]
    public void Bad_news_of_a_watch_that_was_handed_over_is_taken()
    {
        var story = new Story().Through(Stage.HandedOver).SendBack(Stage.FinalControl, Stage.Casing);

        Assert.Equal(StageState.Void, story[Stage.FinalControl]);
        Assert.True(Assert.Single(story.Job.Standings.GroundLost).Urgent);
        new Story().Through(Stage.HandedOver).Does(new FinalControlRefused { To = Stage.Casing, Reason = "a hand is loose" }, TestShop.Jonas);
    }

    public static TheoryData<WorkshopEvent> NeedsAName => new(
        new StageFinished { Stage = Stage.Rebuild },
        new FinalControlPassed { Checks = [] },
        new FinalControlRefused { To = Stage.Casing, Reason = "dust" },
        new Workshop.Core.Waivers.WaiverGiven { Gate = "needs/quote", Reason = "by telephone" });

    [Theory]
    [MemberData(nameof(NeedsAName))]
    public void Some_things_are_only_said_by_somebody(WorkshopEvent one)
    {
        var story = new Story().Through(Stage.Inspection);

        Assert.Contains(("person-named", Strength.Stop), story.Refused(one, by: null, role: "manager", despite: ["person-named"]).Select(Of));
    }

    [Fact]
    public void A_regulation_ends_with_a_rate_set_after_the_last_touch_and_the_rebuild()
    {
        var story = new Story().Through(Stage.Inspection).Does(Story.RateSet).After(Duration.FromHours(1)).Finish(Stage.Rebuild);
        Assert.Equal(("rate-set-since-touch", Strength.Ask), Of(story.RefusedBy(new StageFinished { Stage = Stage.Regulation })));

        story.After(Duration.FromMinutes(1)).Does(Story.RateSet).After(Duration.FromMinutes(1)).Does(new IndexTouched());
        Assert.Equal("rate-set-since-touch", story.RefusedBy(new StageFinished { Stage = Stage.Regulation }).Gate);
        story.After(Duration.FromMinutes(1)).Does(Story.RateSet).Finish(Stage.Regulation);
    }

    [Fact]
    public void A_set_measured_before_the_rebuild_was_sent_back_does_not_end_the_next_regulation()
    {
        var story = new Story().Through(Stage.Regulation).SendBack(Stage.Regulation, Stage.Rebuild).After(Duration.FromHours(1)).Finish(Stage.Rebuild);

        Assert.Equal("rate-set-since-touch", story.RefusedBy(new StageFinished { Stage = Stage.Regulation }).Gate);
    }

    public static TheoryData<PieceEvent> Away => new(
        new PieceGiven { Kind = PieceKind.Case, To = "firms/polisher" },
        new PieceGiven { Kind = PieceKind.Movement, To = "people/jonas" },
        new PieceGiven { Kind = PieceKind.DialAndHands, To = "benches/bench-2" });

    [Theory]
    [MemberData(nameof(Away))]
    public void A_case_is_closed_over_pieces_that_are_in_the_house_and_in_somebodys_hands(PieceEvent away)
    {
        var story = new Story().Through(Stage.DialAndHands).Does(away);

        Assert.Equal(("pieces-together", Strength.Stop), Of(story.RefusedBy(story.Closing(), despite: ["pieces-together"])));
    }

    [Fact]
    public void A_bracelet_with_a_firm_does_not_keep_the_case_open_but_is_asked_for_at_hand_over()
    {
        var story = new Story(taken: new JobTakenIn { Variant = "full-automatic", Customer = "c", Watch = "w", CaseSerial = Story.CaseSerial, Counted = [new CountedPiece(PieceKind.Bracelet, 1)] });
        story.Does(new PieceGiven { Kind = PieceKind.Bracelet, To = "firms/polisher" }).Through(Stage.Ready);

        Assert.Equal(("pieces-home", Strength.Ask), Of(story.RefusedBy(story.HandedOver(), TestShop.Desk, "desk")));
        story.Does(story.HandedOver(), TestShop.Desk, despite: ["pieces-home"]);
        Assert.False(story.Job.Standings.HandedOver);
        Assert.Empty(story.Job.Warranty.Terms);
    }

    public static TheoryData<WearCheckStarted, string> IncompleteStarts => new()
    {
        { Story.WearStart() with { FullyWound = null }, "fully-wound" },
        { Story.WearStart() with { FullyWound = false }, "fully-wound" },
        { Story.WearStart() with { OffsetSeconds = null }, "offset-noted" },
    };

    [Theory]
    [MemberData(nameof(IncompleteStarts))]
    public void A_worn_check_starts_wound_and_with_its_offset(WearCheckStarted start, string gate)
    {
        var story = new Story().Through(Stage.WaterTest);

        Assert.Equal((gate, Strength.Stop), Of(story.RefusedBy(start, despite: [gate])));
    }

    [Fact]
    public void One_worn_check_runs_at_a_time()
    {
        var story = new Story().Through(Stage.WaterTest).Does(Story.WearStart());

        Assert.Equal(("one-check", Strength.Stop), Of(story.RefusedBy(Story.WearStart())));
    }

    public static TheoryData<WorkshopEvent> AboutARunningCheck => new(
        Story.WearRead(2), Story.FoundStopped, new WearCheckPaused { Kind = WearCheckKind.Worn }, new WearCheckResumed { Kind = WearCheckKind.Worn });

    [Theory]
    [MemberData(nameof(AboutARunningCheck))]
    public void What_is_said_of_a_worn_check_needs_one_that_runs(WorkshopEvent one)
    {
        var story = new Story().Through(Stage.WaterTest);

        Assert.Equal(("check-running", Strength.Stop), Of(story.RefusedBy(one)));
    }

    [Fact]
    public void A_worn_check_asks_for_casing_and_stops_and_for_the_water_test_and_only_asks()
    {
        var story = new Story().Through(Stage.DialAndHands);

        Assert.Equal([("needs/casing", Strength.Stop), ("needs/water-test", Strength.Ask)], story.Refused(Story.WearStart()).Select(Of));
    }

    [Fact]
    public void A_watch_with_debts_or_without_control_is_not_handed_over()
    {
        var story = new Story().Through(Stage.ReserveAndFunctions);
        var against = story.Refused(story.HandedOver(), TestShop.Desk, despite: ["needs/final-control", "needs/settlement"]);

        Assert.Equal([("needs/final-control", Strength.Stop), ("needs/settlement", Strength.Stop)], against.Select(Of));
    }

    [Fact]
    public void Measurements_and_notes_meet_no_gate()
    {
        var story = new Story().Does(new HoldPlaced { Hold = HoldReason.Query }).Does(new HoldPlaced { Hold = HoldReason.Legal }, TestShop.Manager);

        story.Does(Story.RateSet).Does(Story.WaterTest(false)).Does(Story.WaterTest()).Does(new Workshop.Core.Notes.NoteWritten { Text = "the owner rang" });
        Assert.Equal(StageState.Open, story[Stage.WaterTest]);
        Assert.Equal(2, story.Job.WaterTests.Tests.Length);
    }

    [Fact]
    public void A_rule_of_the_shop_changes_the_strength_of_a_family_or_of_one_gate()
    {
        var rules = TestShop.With(strengths: new Dictionary<string, Strength> { ["needs/takedown"] = Strength.Note, ["in-route"] = Strength.Ask, ["nobody-else-at-it"] = Strength.Stop });
        var story = new Story(rules: rules).Through(Stage.Quote);

        story.Does(new StageStarted { Stage = Stage.Cleaning });
        Assert.Equal<string>(["needs/takedown"], story.Entries[^1].Judged.Passing);
        Assert.Equal(("nobody-else-at-it", Strength.Stop), Of(story.RefusedBy(new StageStarted { Stage = Stage.Cleaning }, TestShop.Jonas)));
        Assert.Equal(("in-route", Strength.Ask), Of(story.RefusedBy(new StageStarted { Stage = Stage.ReturnUnrepaired })));
    }

    [Fact]
    public void A_family_made_lenient_leaves_what_the_route_marks_as_a_stop()
    {
        var rules = TestShop.With(strengths: new Dictionary<string, Strength> { ["needs"] = Strength.Note });
        var story = new Story(rules: rules).Through(Stage.Diagnosis);

        Assert.Equal(("needs/quote", Strength.Stop), Of(story.RefusedBy(new StageStarted { Stage = Stage.Rebuild })));
        story.Start(Stage.Takedown);
    }

    [Fact]
    public void A_fixed_gate_keeps_its_strength_whatever_the_shop_says()
    {
        var rules = TestShop.With(strengths: new Dictionary<string, Strength> { ["one-holder"] = Strength.Note, ["finished-by-result"] = Strength.Ask, ["quote-valid"] = Strength.Note });
        var story = new Story(rules: rules).Does(new PieceTaken(), TestShop.Mara);

        Assert.Equal(("one-holder", Strength.Stop), Of(story.Refused(new PieceTaken(), TestShop.Jonas)[0]));
        Assert.Equal(("finished-by-result", Strength.Stop), Of(story.RefusedBy(new StageFinished { Stage = Stage.Casing })));
    }

    [Fact]
    public void What_is_shown_fits_a_line_read_from_an_arms_length()
    {
        var far = $"firms/{new string('a', 80)}";
        var story = new Story().Through(Stage.DialAndHands).Does(new PieceGiven { Kind = PieceKind.DialAndHands, To = far }).Does(new HoldPlaced { Hold = HoldReason.OutsideFirm });
        var all = story.Refused(story.Closing()).Concat(story.Refused(new PieceTaken { Kind = PieceKind.DialAndHands })).Concat(story.Refused(Story.WearStart()))
            .Concat(story.Refused(story.AllChecksOk, TestShop.Mara)).Concat(story.Refused(new FinalControlPassed { Checks = [new FinalCheck(far, CheckResult.Exception)] }, TestShop.Jonas))
            .Concat(story.Refused(new StageStarted { Stage = Stage.ReserveAndFunctions })).Concat(story.Refused(story.Closing("ANOTHER")));

        Assert.All(all, gate => Assert.All(Enum.GetValues<Language>(), language => Assert.InRange(gate.Line.Line(language).Length, 1, 60)));
        Assert.All(all, gate => Assert.NotEmpty(gate.Helps.In(Language.German)));
    }

    private static (string Gate, Strength Strength) Of(Objection one) => (one.Gate, one.Strength);
}
