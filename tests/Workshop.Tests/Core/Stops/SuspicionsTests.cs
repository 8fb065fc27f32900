using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Stops;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core.Stops;

public class SuspicionsTests
{
    private static readonly Instant Start = TestShop.Local(2025, 3, 11, 17, 30);

    [Fact]
    public void A_stop_at_the_change_of_the_day_makes_one_think_of_the_calendar()
    {
        var suspected = Of(Found("23:40", 11));

        Assert.Equal([StopCause.Calendar, StopCause.Intermittent], suspected.Select(one => one.Cause));

        // One each to begin with; what comes and goes weighs a quarter where something else fits: 1 / 1.25.
        Assert.Equal((0.8m, 0.2m), (suspected[0].Probability, suspected[1].Probability));
        Assert.True(suspected[0].TooFew);
    }

    [Theory]
    [InlineData("18:35", StopCause.EscapementOrDirt)]
    [InlineData("23:20", StopCause.Calendar, StopCause.EscapementOrDirt)]
    [InlineData("18:20", StopCause.Intermittent)]
    public void One_to_six_hours_make_one_think_of_the_escapement(string shown, params StopCause[] causes) =>
        Assert.Equal(causes, Of(Found(shown, 11)).Select(one => one.Cause).Where(one => causes.Length == 1 && causes[0] == StopCause.Intermittent || one != StopCause.Intermittent));

    [Fact]
    public void A_suspicion_that_holds_at_some_of_the_moments_counts_for_as_much()
    {
        // Nobody read the day: 6 h 10, 18 h 10 and 30 h 10 are possible, at 23:40, 11:40 and 23:40.
        var calendar = Of(Found("23:40", null)).Single(one => one.Cause == StopCause.Calendar);

        Assert.Equal(2m / 3, calendar.Fits);
    }

    [Fact]
    public void The_same_minute_twice_makes_one_think_of_hands_and_teeth()
    {
        var earlier = Found("04:58", 12) with { Id = new EventId("/devices/bench-1/1", "e1") };

        Assert.Contains(Of(Found("11:00", 12), earlier), one => one.Cause == StopCause.HandsOrTooth);
        Assert.DoesNotContain(Of(Found("11:05", 12), earlier), one => one.Cause == StopCause.HandsOrTooth);
        Assert.DoesNotContain(Of(earlier, earlier), one => one.Cause == StopCause.HandsOrTooth);
    }

    [Fact]
    public void A_watch_that_ran_its_reserve_on_the_winder_was_not_wound()
    {
        var stop = Found("09:15", 13, found: TestShop.Local(2025, 3, 13, 16));

        Assert.Contains(Of(stop), one => one.Cause == StopCause.Winding);
        Assert.DoesNotContain(Of(stop with { Start = stop.Start with { Place = WearPlace.Wrist } }), one => one.Cause == StopCause.Winding);
        Assert.DoesNotContain(Suspicions.Of(stop, [], 70, CauseCounts.None, StopRules.Usual, TestShop.Zone), one => one.Cause == StopCause.Winding);
    }

    [Fact]
    public void A_running_chronograph_makes_one_think_of_its_minute_counter()
    {
        var stop = Found("04:00", 12);
        Assert.Contains(Of(stop with { Start = stop.Start with { ChronographRunning = true } }), one => one.Cause == StopCause.MinuteCounter);
        Assert.DoesNotContain(Of(stop), one => one.Cause == StopCause.MinuteCounter);
    }

    [Fact]
    public void What_was_found_before_counts_one_for_each_and_too_few_are_said_to_be_so()
    {
        var stop = Found("23:20", 11);
        var four = Suspicions.Of(stop, [], null, Counts(calendar: 1, escapement: 3), StopRules.Usual, TestShop.Zone);
        var seven = Suspicions.Of(stop, [], null, Counts(calendar: 3, escapement: 4), StopRules.Usual, TestShop.Zone);

        // (3 + 1) against (1 + 1), and a quarter of (0 + 1) for what comes and goes: 4 / 6.25.
        Assert.Equal((StopCause.EscapementOrDirt, 0.64m, true), (four[0].Cause, four[0].Probability, four[0].TooFew));
        Assert.Equal("too few to say (n = 4)", StopWords.Of(four[0]).ToString());
        Assert.Equal("3 of 7 (n = 7)", StopWords.Of(seven.Single(one => one.Cause == StopCause.Calendar)).ToString());
        Assert.All(seven, one => Assert.False(one.TooFew));
        Assert.Equal(1m, seven.Sum(one => one.Probability), 10);
    }

    [Fact]
    public void A_cause_that_was_not_found_is_none()
    {
        var counts = new CauseCounts(ImmutableSortedDictionary<StopCause, int>.Empty.Add(StopCause.Unknown, 9).Add(StopCause.Calendar, 2), true);
        Assert.Equal(2, counts.All);
    }

    [Fact]
    public void The_next_test_is_worth_most_for_its_minutes()
    {
        // Equally likely, ten minutes against thirty.
        Assert.Equal(StopTest.ThroughMidnight, Next(Counts(0, 0)).Test.Test);

        // (20 + 1) in thirty minutes against 1 in ten.
        var opened = Next(Counts(0, 20));
        Assert.Equal(StopTest.LookAtTheTrain, opened.Test.Test);
        Assert.NotNull(StopWords.Caution(opened.Test));

        NextTest Next(CauseCounts counts) => Suspicions.Cheapest(Suspicions.Of(Found("23:20", 11), [], null, counts, StopRules.Usual, TestShop.Zone), StopRules.Usual)!;
    }

    [Fact]
    public void A_shop_s_own_figures_are_held_against_each_other() =>
        Assert.Equal(
            ["/stops/reserveHoursMost", "/stops/earlyHoursMost", "/stops/tests/1/cause", "/stops/tests/2/cause"],
            new StopRules
            {
                ReserveHoursLeast = 50,
                EarlyHoursLeast = 9,
                Tests = [new(StopCause.Calendar, StopTest.ThroughMidnight, 5, 0, false), new(StopCause.Calendar, StopTest.HandsPassing, 5, 0, false), new(StopCause.Unknown, StopTest.WeekOfWear, 5, 0, false)],
            }.Faults("/stops").Select(fault => fault.Pointer));

    private static CauseCounts Counts(int calendar, int escapement) =>
        new(ImmutableSortedDictionary<StopCause, int>.Empty.Add(StopCause.Calendar, calendar).Add(StopCause.EscapementOrDirt, escapement), true);

    private static ImmutableArray<Suspicion> Of(Stop stop, params Stop[] others) => Suspicions.Of(stop, [stop, .. others], null, CauseCounts.None, StopRules.Usual, TestShop.Zone);

    private static Stop Found(string shown, int? day, Instant? found = null) => new(
        new EventId("/devices/bench-1/1", "e9"),
        new StopStart(new EventId("/devices/bench-1/1", "e8"), WearCheckKind.Worn, new RunStart(Start, 0, null), WearPlace.Winder, false, Start),
        found ?? TestShop.Local(2025, 3, 13, 9, 15), RunTime.ReadHands(shown), day);
}
