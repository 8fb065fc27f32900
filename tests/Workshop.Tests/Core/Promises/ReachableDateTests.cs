using Workshop.Core.Intake;
using Workshop.Core.Promises;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.Core.Promises;

// "Kept nine times in ten", and saying no at intake where that lies behind the fixed day: common practice. The days were counted by hand
// on a calendar of Monday to Friday, 9 to 18, without public holidays.
public class ReachableDateTests
{
    private static readonly ShopCalendar Shop = MondayToFriday();

    private static readonly RouteDefinition Route = TestShop.FullAutomatic with { PromisedWorkingDays = 20 };

    [Fact]
    public void With_too_few_jobs_the_promised_days_count_and_the_usual_wait_for_an_approval()
    {
        var by = Reach("2026-03-02 10:00", [.. Enumerable.Repeat(5, 19)]);

        // Monday 2 March is day 0; 24 open days later is Friday 3 April.
        Assert.Equal((Date("2026-04-03"), 24, ReachableBasis.Usual, 19), (by.On, by.OpenDays, by.Basis, by.Jobs));
        Assert.Contains("19 of 20", by.Words.ToString());
    }

    [Fact]
    public void Nine_in_ten_of_a_hundred_jobs_are_ready_within_the_days_of_the_ninetieth()
    {
        var by = Reach("2026-03-02 10:00", [.. Enumerable.Range(1, 100).Reverse()]);

        Assert.Equal((90, ReachableBasis.OwnFigures, 100), (by.OpenDays, by.Basis, by.Jobs));
    }

    [Theory]
    [InlineData(20, 18)]
    [InlineData(21, 19)]
    [InlineData(29, 27)]
    [InlineData(30, 27)]
    public void At_least_nine_in_ten_and_with_one_day_less_fewer(int jobs, int openDays)
    {
        int[] figures = [.. Enumerable.Range(1, jobs)];

        var by = Reach("2026-03-02 10:00", figures);

        Assert.Equal(openDays, by.OpenDays);
        Assert.True(figures.Count(one => one <= by.OpenDays) * 10 >= 9 * jobs);
        Assert.True(figures.Count(one => one <= by.OpenDays - 1) * 10 < 9 * jobs);
    }

    [Fact]
    public void After_closing_it_is_counted_from_the_next_day_and_closures_are_left_out()
    {
        int[] figures = [.. Enumerable.Repeat(3, 20)];

        Assert.Equal(Date("2026-03-05"), Reach("2026-03-02 10:00", figures).On);
        Assert.Equal(Date("2026-03-06"), Reach("2026-03-02 19:00", figures).On);
        Assert.Equal(Date("2026-01-07"), ReachableDate.For(Shop.At("2025-12-23 10:00"), figures, Route, new IntakeRules(), MondayToFriday("Europe/Zurich", TurnOfTheYear)).On);
    }

    [Fact]
    public void The_shop_says_how_many_jobs_count_and_how_long_an_approval_takes()
    {
        var rules = new IntakeRules { DeliveredJobsForOwnFigures = 5, OpenDaysUntilApproval = 0 };

        Assert.Equal(ReachableBasis.OwnFigures, ReachableDate.For(Shop.At("2026-03-02 10:00"), [1, 2, 3, 4, 5], Route, rules, Shop).Basis);
        Assert.Equal(20, ReachableDate.For(Shop.At("2026-03-02 10:00"), [], Route, rules, Shop).OpenDays);
    }

    private static ReachableDate Reach(string takenIn, int[] openDays) => ReachableDate.For(Shop.At(takenIn), openDays, Route, new IntakeRules(), Shop);
}
