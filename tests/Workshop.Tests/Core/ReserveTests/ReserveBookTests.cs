using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Gates;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.ReserveTests;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.ReserveTests;

/// <summary>Started on Tuesday, 3 March 2026, at eight; 42 hours are over on Thursday at two in the morning.</summary>
public class ReserveBookTests
{
    private static readonly ReserveTestStarted Wound = new() { FullyWound = true };

    [Fact]
    public void Hands_that_stopped_after_the_hours_pass_and_tell_how_long_it_ran()
    {
        var judged = Judged(Started().At(2026, 3, 4, 18).Does(Runs).At(2026, 3, 5, 8).Does(Stopped(3, 24)));

        Assert.Equal((ReserveVerdict.Pass, true), (judged.Verdict, judged.Exact));
        Assert.Equal(Duration.FromHours(43.4), judged.Least);
    }

    [Fact]
    public void A_minute_too_few_is_short_and_nine_tenths_are_let_pass_by_exception_alone()
    {
        var one = Judged(Started().At(2026, 3, 4, 18).Does(Runs).At(2026, 3, 5, 8).Does(Stopped(1, 59)));
        Assert.Equal((ReserveVerdict.Short, true), (one.Verdict, one.ByException));
        Assert.Equal(ReserveVerdict.Pass, Judged(Started().At(2026, 3, 4, 18).Does(Runs).At(2026, 3, 5, 8).Does(Stopped(2, 0))).Verdict);

        var far = Judged(Started().At(2026, 3, 4, 18).Does(Runs).At(2026, 3, 5, 8).Does(Stopped(9, 0)));
        Assert.Equal((ReserveVerdict.Short, false, Duration.FromHours(37)), (far.Verdict, far.ByException, far.Least));
    }

    [Fact]
    public void What_was_seen_to_run_its_hours_has_passed_while_it_runs_on()
    {
        var story = Started().At(2026, 3, 5, 2).Does(Runs);

        Assert.Equal(ReserveVerdict.Pass, Judged(story).Verdict);
        Assert.NotNull(story.Job.Reserve.Running);
        Assert.Empty(Looks(story));
        Assert.Equal(ReserveVerdict.RunningOn, Judged(Started().At(2026, 3, 4, 18).Does(Runs)).Verdict);
    }

    [Fact]
    public void Without_the_hands_it_ran_from_the_last_look_to_the_finding()
    {
        var judged = Judged(Started().At(2026, 3, 4, 18).Does(Runs).At(2026, 3, 5, 8).Does(new ReserveTestRead { Stopped = true }));

        Assert.Equal((ReserveVerdict.Inconclusive, ReserveSettling.ReadTheHands), (judged.Verdict, judged.Settling));
        Assert.Equal((Duration.FromHours(34), Duration.FromHours(48)), (judged.Least, judged.Most!.Value));
        Assert.Equal(ReserveVerdict.Short, Judged(Started().At(2026, 3, 4, 18).Does(new ReserveTestRead { Stopped = true })).Verdict);
    }

    [Fact]
    public void Hands_that_could_mean_two_moments_on_both_sides_of_the_hours_say_nothing_before_the_day_is_read()
    {
        // 3:24 by the hands: 31.4 h or 43.4 h.
        var story = Started().At(2026, 3, 5, 8);
        var unread = Judged(story.Does(Stopped(3, 24)));
        Assert.Equal((ReserveVerdict.Inconclusive, ReserveSettling.ReadTheDay), (unread.Verdict, unread.Settling));

        Assert.Equal(ReserveVerdict.Pass, Judged(Started().At(2026, 3, 5, 8).Does(Stopped(3, 24) with { ShownDay = 5 })).Verdict);
        Assert.Equal(ReserveVerdict.Short, Judged(Started().At(2026, 3, 5, 8).Does(Stopped(3, 24) with { ShownDay = 4 })).Verdict);
    }

    [Fact]
    public void A_camera_that_saw_it_stop_tells_the_hours()
    {
        var judged = Judged(Started().At(2026, 3, 5, 8).Does(new ReserveTestRead { Stopped = true, StoppedAt = TestShop.Local(2026, 3, 5, 4) }));

        Assert.Equal((ReserveVerdict.Pass, Duration.FromHours(44)), (judged.Verdict, judged.Least));
    }

    [Fact]
    public void Somebody_is_called_a_little_before_the_hours_are_over_and_again_when_they_are()
    {
        var story = Started();
        var row = Assert.Single(Looks(story));
        Assert.Equal(TestShop.Local(2026, 3, 5, 1, 30), row.Due);
        Assert.Equal(story.Rules.Calendar.NextOpening(row.Due!.Value), row.Task);

        story.At(2026, 3, 5, 1, 40).Does(Runs);
        Assert.Equal(TestShop.Local(2026, 3, 5, 2), Assert.Single(Looks(story)).Due);

        story.At(2026, 3, 5, 1, 50).Does(new ReserveTestRead { Stopped = true });
        Assert.Empty(Looks(story));
    }

    [Fact]
    public void It_begins_at_full_wind_alone_and_with_nobody_wearing_the_watch()
    {
        var story = Cased();
        Assert.Equal("fully-wound", story.RefusedBy(new ReserveTestStarted()).Gate);

        story.Does(Wound);
        Assert.Equal("one-check", story.RefusedBy(Wound).Gate);
        Assert.Equal(("reserve-undisturbed", Strength.Ask), Of(story.RefusedBy(Story.WearStart())));
        story.After(Duration.FromHours(1)).Does(new ReserveTestRead { Stopped = true });
        Assert.Equal("check-running", story.RefusedBy(Runs).Gate);

        story.Does(Story.WearStart());
        Assert.Equal(("reserve-undisturbed", Strength.Ask), Of(story.RefusedBy(Wound)));
        story.At(story.Job.WearChecks.Running!.Due!.Value + Duration.FromMinutes(5)).Does(Story.WearRead(3));
        story.Does(Wound);
        story.Does(Story.WearStart(), despite: ["reserve-undisturbed"]);
    }

    [Fact]
    public void A_movement_that_is_taken_up_again_runs_no_test_and_an_opened_case_leaves_it_alone()
    {
        var story = Started().After(Duration.FromHours(1)).Does(new Workshop.Core.Casing.CaseOpened());
        Assert.NotNull(story.Job.Reserve.Running);

        story.After(Duration.FromHours(1)).SendBack(Stage.WaterTest, Stage.Rebuild);
        Assert.Null(story.Job.Reserve.Running);
        Assert.Equal(ReserveVerdict.Void, Judged(story).Verdict);
        Assert.Empty(Looks(story));
    }

    [Theory]
    [InlineData(50.0, 72.0, 44.0, 2020, 50.0, ReserveBasis.Told)]
    [InlineData(null, 72.0, 44.0, 2020, 72.0, ReserveBasis.Watch)]
    [InlineData(null, null, 44.0, 2020, 44.0, ReserveBasis.Calibre)]
    [InlineData(null, null, null, 1969, 38.0, ReserveBasis.Older)]
    [InlineData(null, null, null, 1970, 42.0, ReserveBasis.Usual)]
    [InlineData(null, null, null, null, 42.0, ReserveBasis.Usual)]
    public void The_hours_are_the_nearest_that_is_known(double? told, double? ofWatch, double? ofCalibre, int? year, double hours, ReserveBasis basis)
    {
        var terms = new WatchKnown { Kind = CalibreKind.HandWound, ReserveHoursOfWatch = (decimal?)ofWatch, ReserveHoursOfCalibre = (decimal?)ofCalibre, MadeInYear = year }.ReserveBy((decimal?)told, ReserveRules.Usual);

        Assert.Equal(((decimal)hours, basis), (terms.Hours, terms.Basis));
    }

    [Fact]
    public void What_is_wrong_in_a_look_is_said()
    {
        Assert.Equal(["/running"], EventFaults.Of(new ReserveTestRead()).Select(fault => fault.Pointer));
        Assert.Equal(["/running"], EventFaults.Of(new ReserveTestRead { Running = true, Stopped = true }).Select(fault => fault.Pointer));
        Assert.Equal(["/shownTime"], EventFaults.Of(new ReserveTestRead { Running = true, ShownDay = 3 }).Select(fault => fault.Pointer));
        Assert.Equal(["/shownDay"], EventFaults.Of(new ReserveTestRead { Stopped = true, ShownDay = 32 }).Select(fault => fault.Pointer));
        Assert.Equal(["/hours"], EventFaults.Of(new ReserveTestStarted { Hours = 0 }).Select(fault => fault.Pointer));
        Assert.Equal(["/fullyWound"], EventFaults.OfQuartz(Wound).Select(fault => fault.Pointer));
    }

    private static (string Gate, Strength Strength) Of(Objection one) => (one.Gate, one.Strength);

    private static ReserveTestRead Runs { get; } = new() { Running = true };

    private static ReserveTestRead Stopped(int hour, int minute) => new() { Stopped = true, ShownTime = new LocalTime(hour, minute) };

    private static IEnumerable<AgendaRow> Looks(Story story) => story.Agenda().Where(row => row.Kind == AgendaKind.ReserveTest);

    private static ReserveJudgement Judged(Story story) => ReserveJudgement.Of(story.Job.Reserve.Tests[^1], TestShop.Zone);

    private static Story Started() => Cased().At(2026, 3, 3, 8).Does(Wound);

    private static Story Cased()
    {
        var story = new Story().Through(Stage.WaterTest);
        story.Watch = new WatchKnown { Kind = CalibreKind.Automatic };
        return story;
    }
}
