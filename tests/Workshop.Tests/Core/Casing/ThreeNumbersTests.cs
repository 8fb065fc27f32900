using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Casing;

public class ThreeNumbersTests
{
    private static readonly Label Other = Label.Complete(LabelKind.Job, [9, 9, 9, 9, 9, 9]);

    [Theory]
    [InlineData("BX 4711")]
    [InlineData("bx-47.11")]
    [InlineData(" b x 4 7 1 1 ")]
    public void Blanks_hyphens_dots_and_case_say_nothing(string read)
    {
        var story = new Story().Through(Stage.DialAndHands);
        story.Does(story.Closing(read));

        Assert.Equal(StageState.Done, story[Stage.Casing]);
    }

    [Fact]
    public void A_label_as_typed_on_any_keyboard_agrees()
    {
        var story = new Story().Through(Stage.DialAndHands);
        var label = story.Label.ToString();

        story.Does(story.Closing() with { JobLabel = $"{label[..4].ToLowerInvariant()}-{label[4..]}" });
    }

    [Fact]
    public void Numbers_that_disagree_are_refused_and_hold_both_jobs()
    {
        var story = new Story().Through(Stage.DialAndHands);
        story.OtherJobWithNumber = number => number == "BX 9999" ? Other : null;
        var decision = story.Says(story.Closing("BX 9999"), despite: ["three-numbers"]);

        Assert.Equal(Outcome.Refused, decision.Outcome);
        Assert.Equal("three-numbers", Assert.Single(decision.Against).Gate);
        Assert.Equal([$"job/{story.Label}", $"job/{Other}"], decision.Entries.Select(one => one.Stream));
        var (here, there) = ((MixUpSuspected)decision.Entries[0].Entry.Event, (MixUpSuspected)decision.Entries[1].Entry.Event);
        Assert.Equal((story.Label.ToString(), Other.ToString()), (here.SeenAt, here.Other));
        Assert.Equal((story.Label.ToString(), story.Label.ToString()), (there.SeenAt, there.Other));
        Assert.Equal<string>(["case-serial"], here.Differing);
        Assert.NotEqual(decision.Entries[0].Entry.Id, decision.Entries[1].Entry.Id);
        Assert.Equal([1, 1], decision.Entries.Select(one => one.Entry.StreamVersion - (one.Stream.Contains(Other.ToString(), StringComparison.Ordinal) ? 0 : story.Entries.Count - 1)));

        Assert.Equal(HoldReason.MixUp, Assert.Single(story.Job.Holds.Standing).Reason);
        Assert.Equal(StageState.Open, story[Stage.Casing]);
        Assert.False(story.Job.Case.Closed);
        Assert.Contains("hold/mix-up", story.Refused(story.Closing()).Select(gate => gate.Gate));

        story.Does(new HoldLifted { Hold = HoldReason.MixUp }, TestShop.Manager).Does(story.Closing());
    }

    [Fact]
    public void Numbers_that_disagree_in_a_report_are_noted_and_hold_both_jobs_from_its_receipt()
    {
        var story = new Story().Through(Stage.DialAndHands).After(Duration.FromHours(2));
        story.OtherJobWithNumber = _ => Other;
        var decision = story.Says(story.Closing("BX 9999"), at: story.Now - Duration.FromHours(1));

        Assert.Equal(Outcome.Noted, decision.Outcome);
        Assert.Equal(["case.closed", "mix-up.suspected", "mix-up.suspected", "hold.placed"], decision.Entries.Select(one => one.Entry.Event.Type));
        Assert.Equal([HoldReason.MixUp, HoldReason.Query], story.Job.Holds.Standing.Select(hold => hold.Reason).OrderDescending());
        Assert.All(story.Job.Holds.All, hold => Assert.Equal(story.Now, hold.From));
        Assert.Single(story.Elsewhere);
        Assert.Equal(StageState.Open, story[Stage.Casing]);
    }

    [Fact]
    public void The_label_of_another_job_finds_that_job()
    {
        var story = new Story().Through(Stage.DialAndHands);
        story.OtherJobWithNumber = number => Label.TryRead(number, out var label) ? label : null;
        var decision = story.Says(story.Closing() with { JobLabel = Other.ToString() });

        Assert.Equal(Other.ToString(), Assert.IsType<MixUpSuspected>(decision.Entries[0].Entry.Event).Other);
    }

    [Fact]
    public void Numbers_nobody_else_has_hold_one_job()
    {
        var story = new Story().Through(Stage.DialAndHands);
        Assert.Null(Assert.IsType<MixUpSuspected>(Assert.Single(story.Says(story.Closing("BX 9999")).Entries).Entry.Event).Other);
        Assert.Empty(story.Elsewhere);
    }

    [Fact]
    public void A_number_not_known_at_intake_is_set_by_its_first_reading_and_compared_from_then_on()
    {
        var story = new Story(taken: new JobTakenIn { Variant = "full-automatic", Customer = "c", Watch = "w" });
        story.Does(story.Closing("K 1") with { MovementNumber = "777" });
        Assert.Equal(("K 1", "777"), (story.Job.Case.CaseSerial, story.Job.Case.MovementNumber));

        story.Through(Stage.DialAndHands);
        var gate = story.RefusedBy(story.Closing("K 1") with { MovementNumber = "778" });
        Assert.Equal("movement-number", gate.Names["differing"]);
        story.Does(new HoldLifted { Hold = HoldReason.MixUp }, TestShop.Manager).Does(story.Closing("K 1"));
    }

    [Fact]
    public void A_mix_up_written_by_another_job_holds_this_one()
    {
        var story = new Story();
        story.Does(new MixUpSuspected { SeenAt = Other.ToString(), Other = Other.ToString(), Differing = ["case-serial"] }, by: null, role: "service", source: EventId.Service);

        var gate = story.After(Duration.FromMinutes(1)).RefusedBy(new StageStarted { Stage = Stage.Diagnosis });
        Assert.Equal(("hold/mix-up", Strength.Stop), (gate.Gate, gate.Strength));
    }
}
