using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Waivers;

namespace Workshop.Tests.Core.Jobs;

public class NextStepsTests
{
    [Fact]
    public void Every_required_stage_that_does_not_stand_is_named_in_the_order_of_the_route()
    {
        var story = new Story().Through(Stage.Cleaning);
        var expected = TestShop.FullAutomatic.Stages.Select(planned => planned.Stage).Where(stage => story[stage] != StageState.Done && stage is not (Stage.Queue or Stage.Ready));

        Assert.Equal(expected, story.Next().Where(step => step.Stage is not null).Select(step => step.Stage!.Value));
    }

    [Fact]
    public void Nothing_stands_against_the_next_step_and_the_rest_says_what_does()
    {
        var next = new Story().Through(Stage.Cleaning).Next();

        Assert.Empty(Step(next, Stage.Inspection).Against);
        Assert.Equal([("needs/inspection", Strength.Ask)], Step(next, Stage.Rebuild).Against.Select(gate => (gate.Gate, gate.Strength)));
        Assert.Contains(("needs/rebuild", Strength.Stop), Step(next, Stage.FinalControl).Against.Select(gate => (gate.Gate, gate.Strength)));
    }

    [Fact]
    public void What_is_said_to_be_allowed_is_allowed_and_what_is_not_is_refused()
    {
        foreach (var reached in TestShop.FullAutomatic.Stages.Select(planned => planned.Stage).Where(stage => stage is not (Stage.Queue or Stage.HandedOver)))
        {
            var story = new Story().Through(reached).After(Duration.FromMinutes(1));
            foreach (var step in story.Next().Where(step => Starting(story, step) is not null))
            {
                Assert.Equal(
                    (reached, step.Stage, string.Join(' ', step.Against.Select(gate => gate.Gate).Order())),
                    (reached, step.Stage, string.Join(' ', new Story().Through(reached).Says(Starting(story, step)!, TestShop.Jonas).Against.Select(gate => gate.Gate).Order())));
            }
        }
    }

    [Theory]
    [InlineData(Stage.Takedown, "stage.started", "stage.finished")]
    [InlineData(Stage.Quote, "quote.sent", "quote.answered")]
    [InlineData(Stage.Casing, "stage.started", "case.closed")]
    [InlineData(Stage.WaterTest, "stage.started", "water-test.recorded")]
    [InlineData(Stage.WearCheck, "wear-check.started", "wear-check.read")]
    [InlineData(Stage.FinalControl, "stage.started", "final-control.passed")]
    [InlineData(Stage.Settlement, "stage.started", "stage.finished")]
    [InlineData(Stage.HandedOver, null, "job.handed-over")]
    public void A_step_names_the_event_that_starts_it_and_the_one_that_ends_it(Stage stage, string? starts, string finishes)
    {
        var step = Step(new Story().Next(), stage);

        Assert.Equal((starts, finishes), (step.Starts, step.Finishes));
    }

    [Fact]
    public void A_running_stage_is_not_started_again_and_says_what_stands_against_its_end()
    {
        var step = Step(new Story().Through(Stage.Rebuild).Start(Stage.Regulation).Next(), Stage.Regulation);

        Assert.Null(step.Starts);
        Assert.Equal(["rate-set-since-touch"], step.Against.Select(gate => gate.Gate));
    }

    [Fact]
    public void What_would_keep_a_case_open_or_a_control_from_passing_stands_against_it()
    {
        var story = new Story().Through(Stage.DialAndHands).Does(new HoldPlaced { Hold = HoldReason.Loss });
        Assert.Equal(["hold/loss"], Step(story.Next(), Stage.Casing).Against.Select(gate => gate.Gate));
        Assert.Contains("hold/loss", Step(story.Next(), Stage.FinalControl).Against.Select(gate => gate.Gate));
    }

    [Fact]
    public void A_gate_that_only_flags_stands_against_nothing()
    {
        var rules = TestShop.With(strengths: new Dictionary<string, Strength> { ["needs/takedown"] = Strength.Note });

        Assert.Empty(Step(new Story(rules: rules).Through(Stage.Quote).Next(), Stage.Cleaning).Against);
    }

    [Fact]
    public void A_waiver_takes_its_gate_away()
    {
        var story = new Story().Through(Stage.Diagnosis).Does(new WaiverGiven { Gate = "needs/quote", Reason = "by telephone" }, TestShop.Manager);

        Assert.Empty(Step(story.Next(), Stage.Takedown).Against);
    }

    [Fact]
    public void A_legal_hold_shows_as_a_query_to_all_but_managers()
    {
        var story = new Story().Does(new HoldPlaced { Hold = HoldReason.Legal }, TestShop.Manager);

        Assert.Equal(["hold/query"], Step(story.Next("desk"), Stage.Diagnosis).Against.Select(gate => gate.Gate));
        Assert.Equal(["hold/legal"], Step(story.Next("manager"), Stage.Diagnosis).Against.Select(gate => gate.Gate));
    }

    [Fact]
    public void Holds_and_sending_back_are_always_open_until_the_watch_has_left()
    {
        Assert.Contains(new Story().Next(), step => step is { Stage: null, Starts: "hold.placed" });
        Assert.Contains(new Story().Next(), step => step is { Stage: null, Starts: "stage.sent-back" });
        Assert.Empty(new Story().Through(Stage.HandedOver).Next());
    }

    private static NextStep Step(IEnumerable<NextStep> steps, Stage stage) => steps.Single(step => step.Stage == stage);

    private static WorkshopEvent? Starting(Story story, NextStep step) => step.Starts switch
    {
        "stage.started" when StageTable.CanBeTold(step.Stage!.Value) => new StageStarted { Stage = step.Stage.Value },
        "wear-check.started" => Story.WearStart(),
        null when step.Finishes == "job.handed-over" => story.HandedOver(),
        _ => null,
    };
}
