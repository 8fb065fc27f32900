using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;
using Workshop.Core.Trials;

namespace Workshop.Tests.Core.Trials;

public class TrialBookTests
{
    [Fact]
    public void A_trial_with_all_its_days_has_figures_in_whatever_order_they_were_told()
    {
        var story = new Story();
        foreach (var step in TrialSequence.Steps.Reverse())
        {
            story.After(Duration.FromDays(1)).Does(Day(step.Day, step.Day / 10m));
        }

        var result = TrialResult.Of(story.Job.Trials.Of("spring"));

        Assert.Equal(Enumerable.Range(1, 15).Select(day => day / 10m), result.Rates);
        Assert.Equal(0.55m, result.Figures(TrialCategory.TwentyMillimetresAndOver)!.Value[0].Figure);
    }

    [Fact]
    public void A_missing_day_leaves_no_verdict_and_is_named()
    {
        var story = new Story();
        foreach (var step in TrialSequence.Steps.Where(step => step.Day is not (4 or 15)))
        {
            story.After(Duration.FromDays(1)).Does(Day(step.Day, 2));
        }

        var result = TrialResult.Of(story.Job.Trials.Of("spring"));

        Assert.Equal([4, 15], result.MissingDays.AsEnumerable());
        Assert.Null(result.Figures(TrialCategory.TwentyMillimetresAndOver));
    }

    [Theory]
    [InlineData(Position.CrownLeft, 24, true)]
    [InlineData(Position.CrownLeft, 24.1, false)]
    [InlineData(Position.CrownRight, 23, false)]
    public void A_day_unlike_the_sequence_is_kept_flagged_and_gives_no_verdict(Position position, double celsius, bool like)
    {
        var story = new Story();
        foreach (var step in TrialSequence.Steps.Skip(1))
        {
            story.After(Duration.FromMinutes(1)).Does(Day(step.Day, 2));
        }

        var told = story.After(Duration.FromMinutes(1)).Says(Day(1, 2) with { Position = position, TemperatureCelsius = (decimal)celsius });

        Assert.Equal(Outcome.Accepted, told.Outcome);
        Assert.Equal(!like, told.Flags.Contains(EntryFlag.UnlikeSequence));
        Assert.Equal(like, TrialResult.Of(story.Job.Trials.Of("spring")).Complete);
        Assert.Equal(15, story.Job.Trials.Of("spring").Length);
    }

    [Fact]
    public void A_day_told_again_with_another_figure_is_refused_and_with_the_same_one_it_was_so_already()
    {
        var story = new Story().Does(Day(1, 3.1m));

        Assert.Equal("trial-day-told", story.After(Duration.FromMinutes(1)).RefusedBy(Day(1, 2.9m)).Gate);
        Assert.Contains(EntryFlag.AlreadySo, story.After(Duration.FromMinutes(1)).Says(Day(1, 3.10m)).Flags);
        Assert.Equal(Outcome.Accepted, story.Says(Day(1, 2.9m) with { Trial = "autumn" }).Outcome);
        Assert.Equal([3.1m], story.Job.Trials.Of("spring").Select(day => day.RatePerDaySeconds));
    }

    [Fact]
    public void The_right_figure_takes_the_place_of_the_wrong_one()
    {
        var story = new Story().Does(Day(1, 3.1m));
        var wrong = story.Entries[^1].Id;

        var right = story.After(Duration.FromMinutes(1)).Says(Day(1, 2.9m), insteadOf: wrong);

        Assert.Equal(Outcome.Accepted, right.Outcome);
        Assert.Equal([2.9m], story.Job.Trials.Of("spring").Select(day => day.RatePerDaySeconds));
    }

    [Fact]
    public void A_day_reported_late_with_another_figure_waits_for_a_person()
    {
        var story = new Story().Does(Day(1, 3.1m));
        var then = story.Now;

        var late = story.After(Duration.FromHours(3)).Says(Day(1, 2.9m), at: then + Duration.FromHours(1));

        Assert.Equal(Outcome.Noted, late.Outcome);
        Assert.Equal([3.1m], story.Job.Trials.Of("spring").Select(day => day.RatePerDaySeconds));
    }

    [Theory]
    [InlineData("Spring", 1, 0, 23, "/trial")]
    [InlineData("", 1, 0, 23, "/trial")]
    [InlineData("spring", 0, 0, 23, "/day")]
    [InlineData("spring", 16, 0, 23, "/day")]
    [InlineData("spring", 1, 86_401, 23, "/ratePerDaySeconds")]
    [InlineData("spring", 1, 0, 296, "/temperatureCelsius")]
    public void What_no_trial_can_have_is_named(string trial, int day, int rate, int celsius, string pointer) => Assert.Equal(
        [pointer],
        EventFaults.Of(new TrialDayRecorded { Trial = trial, Day = day, Position = Position.CrownLeft, TemperatureCelsius = celsius, RatePerDaySeconds = rate }).Select(fault => fault.Pointer));

    [Fact]
    public void A_quartz_watch_has_no_trial() => Assert.Equal(["/trial"], EventFaults.OfQuartz(Day(1, 0)).Select(fault => fault.Pointer));

    private static TrialDayRecorded Day(int day, decimal rate) => new()
    {
        Trial = "spring",
        Day = day,
        Position = TrialSequence.Steps[day - 1].Position,
        TemperatureCelsius = TrialSequence.Steps[day - 1].TemperatureCelsius,
        RatePerDaySeconds = rate,
    };
}
