using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.Gates;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Stops;

namespace Workshop.Tests.Core.Stops;

public class StopBookTests
{
    [Theory]
    [InlineData(StopCause.Intermittent, 168)]
    [InlineData(StopCause.Calendar, 48)]
    public void After_a_stop_that_comes_and_goes_a_week_of_wear_is_owed(StopCause cause, int hours)
    {
        var story = new Story().Through(Stage.WaterTest).Does(Story.WearStart()).After(Duration.FromHours(5)).Does(Story.FoundStopped);

        story.Does(new StopExplained { Of = story.Job.Stops.Stops[0].Id, Cause = cause }).After(Duration.FromHours(1)).Does(Story.WearStart());

        Assert.Equal((Duration.FromHours(hours), Duration.FromHours(hours)), (story.Job.WearChecks.Running!.Terms.Owed, story.Job.WearChecks.Running.Terms.ForAPass));
    }

    [Fact]
    public void A_stopped_reading_is_a_stop_and_its_cause_is_written_by_naming_it()
    {
        var story = Stopped();
        var stop = Assert.Single(story.Job.Stops.Stops);
        Assert.Equal(Duration.FromHours(6) + Duration.FromMinutes(10), stop.Ran(TestShop.Zone).Only);
        Assert.Equal("cause-written", story.RefusedBy(Story.WearStart()).Gate);

        story.Watch = new WatchKnown { Kind = CalibreKind.Automatic, Calibre = "hl-21" };
        story.Does(new StopExplained { Of = stop.Id, Cause = StopCause.Calendar });

        Assert.Equal(new CauseRow(stop.Id, "hl-21", StopCause.Calendar, story.Now), Assert.Single(story.Job.Stops.Causes));
        story.Does(Story.WearStart());
    }

    [Fact]
    public void A_cause_that_was_not_found_lets_no_check_begin()
    {
        var story = Stopped();
        story.Does(new StopExplained { Of = story.Job.Stops.Stops[0].Id, Cause = StopCause.Unknown, Remark = "ran on the bench for two days" });

        Assert.Equal("cause-written", story.RefusedBy(Story.WearStart()).Gate);
    }

    [Fact]
    public void A_cause_of_a_stop_that_the_watch_does_not_have_is_refused()
    {
        var story = Stopped();
        var refused = story.RefusedBy(new StopExplained { Of = new EventId("/devices/bench-1/1", "e1"), Cause = StopCause.Winding });

        Assert.Equal(("stop-known", Strength.Stop), (refused.Gate, refused.Strength));
    }

    [Fact]
    public void The_newest_word_about_a_stop_counts_and_a_correction_puts_the_count_right()
    {
        var story = Stopped();
        var of = story.Job.Stops.Stops[0].Id;
        story.Does(new StopExplained { Of = of, Cause = StopCause.Calendar }).After(Duration.FromMinutes(1)).Does(new StopExplained { Of = of, Cause = StopCause.HandsOrTooth });
        Assert.Equal([StopCause.HandsOrTooth], story.Job.Stops.Causes.Select(row => row.Cause));

        story.After(Duration.FromMinutes(1)).Does(new CorrectionMade { Of = story.Entries[^1].Id, Reason = "another watch" });
        Assert.Equal([StopCause.Calendar], story.Job.Stops.Causes.Select(row => row.Cause));

        // What was written down about a stop is taken back before the stop.
        var reading = new CorrectionMade { Of = of, Reason = "it ran" };
        Assert.Equal("needed-later", story.RefusedBy(reading, TestShop.Manager).Gate);
        story.Does(new CorrectionMade { Of = story.Entries.Single(entry => entry.Event is StopExplained { Cause: StopCause.Calendar }).Id, Reason = "it ran" }, TestShop.Manager);
        story.After(Duration.FromMinutes(1)).Does(reading, TestShop.Manager);
        Assert.Empty(story.Job.Stops.Stops);
        Assert.Empty(story.Job.Stops.Causes);
    }

    [Fact]
    public void A_check_that_was_void_before_somebody_found_the_watch_stopped_is_no_stop_of_it()
    {
        var story = new Story().Through(Stage.WaterTest).Does(Story.WearStart()).After(Duration.FromHours(2)).Does(new Workshop.Core.Casing.CaseOpened());

        Assert.Empty(story.Job.Stops.Going);
    }

    private static Story Stopped() => new Story(begins: TestShop.Local(2025, 3, 3, 9)).Through(Stage.WaterTest)
        .At(2025, 3, 11, 17, 30).Does(Story.WearStart())
        .At(2025, 3, 13, 9, 15).Does(Story.FoundStopped with { ShownTime = "23:40", ShownDay = 11 });
}
