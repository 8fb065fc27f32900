using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Tests.Core.Route;
using Workshop.Tests.Core.Timekeeping;

namespace Workshop.Tests.Core.Gates;

public class RateGatesTests
{
    private static readonly StageFinished Done = new() { Stage = Stage.Regulation };

    [Fact]
    public void A_set_outside_its_tolerance_asks_when_regulation_is_finished()
    {
        var story = Rebuilt().Does(Told(8));
        var against = story.RefusedBy(Done);

        Assert.Equal(("tolerance-met", Strength.Ask, "Mean: +11.5 s/d, at most +10.0 s/d"), (against.Gate, against.Strength, against.Line.ToString()));
        story.Does(Done, despite: ["tolerance-met"]);
    }

    [Fact]
    public void The_newest_set_counts_and_the_one_before_the_last_touch_does_not()
    {
        Rebuilt().Does(Told(8)).Does(Told(0)).Does(Done);
        Touched(Rebuilt().Does(Told(8))).Does(new RateSetRecorded { Readings = [new RateReading(Position.DialUp, 4)] }).Does(Done);
        Assert.Equal("tolerance-met", Touched(Rebuilt().Does(Told(0))).Does(Told(8)).RefusedBy(Done).Gate);
    }

    [Fact]
    public void A_set_that_lacks_a_position_is_noted_and_one_without_a_wind_state_is_not_judged()
    {
        var noted = Rebuilt().Does(Story.RateSet).Says(Done);
        var plain = Rebuilt().Does(new RateSetRecorded { Readings = [new RateReading(Position.DialUp, 400)] }).Says(Done);

        Assert.Equal((Outcome.Accepted, Outcome.Accepted), (noted.Outcome, plain.Outcome));
        Assert.Equal([new GateWord("tolerance-met", GateSaid.Flagged)], noted.WentThrough.AsEnumerable());
        Assert.Empty(plain.WentThrough);
    }

    [Fact]
    public void A_manager_signs_what_fails_until_the_index_is_touched_again()
    {
        var story = Rebuilt().Does(Told(8));
        Assert.Equal(["criterion-fails"], story.Refused(Signing(CriterionKind.SpreadFull), TestShop.Manager).Select(one => one.Gate));
        story.Does(Signing(CriterionKind.MeanFull), TestShop.Manager);

        Assert.Equal("the customer wears it by night", Assert.Single(story.Job.Timekeeping.Exceptions).Reason);
        story.Does(Done);
        Assert.Equal("tolerance-met", Touched(story).Does(Told(8)).RefusedBy(Done).Gate);
    }

    [Fact]
    public void Nobody_signs_for_a_position_that_was_not_measured()
    {
        var story = Rebuilt().Does(new RateSetRecorded { WindState = WindState.Full, Readings = [.. Measured.Shifted(8).SkipLast(1)] });
        var against = story.RefusedBy(Signing(CriterionKind.MeanFull), TestShop.Manager);

        Assert.Equal(("positions-complete", Strength.Stop, false, "crown-right"), (against.Gate, against.Strength, against.Waivable, against.Names["missing"]));
        Assert.True(GateTable.Of("positions-complete").Fixed);
    }

    [Fact]
    public void An_exception_names_somebody() =>
        Assert.Equal(["person-named"], Rebuilt().Does(Told(8)).Refused(Signing(CriterionKind.MeanFull), by: null, role: "manager").Select(one => one.Gate));

    [Fact]
    public void A_corrected_lift_angle_is_what_a_set_is_judged_by_from_then_on()
    {
        var story = Rebuilt().Does(Told(0, amplitude: -20) with { LiftAngleDegrees = 50 });
        Assert.Equal("Amplitude upright: 235°, at least 240°", story.RefusedBy(Done).Line.ToString());

        story.Does(new LiftAngleCorrected { LiftAngleDegrees = 52, Reason = "the maker's sheet" });

        var set = story.Job.Timekeeping.RateSets.Last();
        Assert.Equal((52m, 50m, 244.4m), (set.LiftAngleDegrees!.Value, set.Told.LiftAngleDegrees!.Value, set.Readings.Single(one => one.Position == Position.CrownDown).AmplitudeDegrees!.Value));
        Assert.Equal(235m, set.Told.Readings.Single(one => one.Position == Position.CrownDown).AmplitudeDegrees);
        story.Does(Done);
    }

    [Fact]
    public void A_corrected_lift_angle_lifts_or_lowers_what_is_regulated_at_all()
    {
        var story = KindsOfWork.Begin(KindsOfWork.Regulation).Through(Stage.Quote);
        story.Does(new RateSetRecorded { WindState = WindState.Full, LiftAngleDegrees = 52, Readings = [new RateReading(Position.DialUp, 4, 232)] });
        Assert.Equal(232m, story.Job.Timekeeping.DialUpFullDegrees());

        story.Does(new LiftAngleCorrected { Of = story.Job.Timekeeping.RateSets[0].Id, LiftAngleDegrees = 50 });

        Assert.Equal(223.08m, Math.Round(story.Job.Timekeeping.DialUpFullDegrees()!.Value, 2));
        Assert.Equal("amplitude-for-regulation", story.RefusedBy(new StageStarted { Stage = Stage.Regulation }).Gate);
    }

    [Fact]
    public void A_lift_angle_is_corrected_of_a_set_that_told_one()
    {
        var story = Rebuilt().Does(Story.RateSet);

        Assert.Equal("/of", Assert.Single(story.Says(new LiftAngleCorrected { Of = new EventId("/devices/bench-9/1", "e9"), LiftAngleDegrees = 50 }).Faults).Pointer);
        Assert.Equal("/of", Assert.Single(story.Says(new LiftAngleCorrected { Of = story.Job.Timekeeping.RateSets.Last().Id, LiftAngleDegrees = 50 }).Faults).Pointer);
        Assert.Equal("", Assert.Single(story.Says(new LiftAngleCorrected { LiftAngleDegrees = 50 }).Faults).Pointer);
    }

    [Fact]
    public void Odd_figures_are_kept_and_flagged()
    {
        var story = Rebuilt();
        Assert.DoesNotContain(EntryFlag.Implausible, story.Says(Told(0)).Flags);
        var odd = story.Says(Told(0) with { HoursSinceFullWind = 12 });

        Assert.Equal(Outcome.Accepted, odd.Outcome);
        Assert.Contains(EntryFlag.Implausible, odd.Flags);
        Assert.Equal(Told(0).Readings.AsEnumerable(), story.Job.Timekeeping.RateSets.Last().Told.Readings);
    }

    [Fact]
    public void What_was_known_when_a_set_was_measured_judges_it_for_good()
    {
        var story = Rebuilt();
        story.Rate = new RateTerms { Tolerance = ToleranceKind.UsualByName["vintage"], Calibre = "v-17" };

        story.Does(Told(8)).Does(Done);

        Assert.Equal("vintage", story.Job.Timekeeping.RateSets.Last().Terms!.Tolerance!.Kind);
    }

    private static ToleranceExcepted Signing(CriterionKind criterion) => new() { Criterion = criterion, Reason = "the customer wears it by night" };

    private static Story Touched(Story story) => story.Does(new IndexTouched()).After(Duration.FromMinutes(10));

    private static Story Rebuilt() => new Story().Through(Stage.Rebuild);

    private static RateSetRecorded Told(decimal rate, decimal amplitude = 0) =>
        new() { WindState = WindState.Full, LiftAngleDegrees = 52, Readings = [.. Measured.Shifted(rate, amplitude)] };
}
