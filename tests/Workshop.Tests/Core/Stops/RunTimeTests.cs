using NodaTime;
using Workshop.Core.Stops;

namespace Workshop.Tests.Core.Stops;

/// <summary>The figures are worked examples of this workshop, by hand: what the hands show less what they showed when the watch was set going.</summary>
public class RunTimeTests
{
    private static readonly DateTimeZone Zone = TestShop.Zone;
    private static readonly Instant Tuesday = TestShop.Local(2025, 3, 11, 17, 30);
    private static readonly Instant Thursday = TestShop.Local(2025, 3, 13, 9, 15);

    [Fact]
    public void The_hands_and_the_day_together_tell_one_moment()
    {
        var ran = Ran(Tuesday, Thursday, "23:40", day: 11);

        Assert.Equal(Span(6, 10), ran.Only);
        Assert.Equal(new LocalDateTime(2025, 3, 11, 23, 40), ran.Candidates[0].Shows);
        Assert.True(ran.Candidates[0].DayDoubtful);
    }

    [Fact]
    public void Without_a_day_the_moments_are_twelve_hours_apart()
    {
        var ran = Ran(Tuesday, Thursday, "23:40");

        Assert.Equal([Span(6, 10), Span(18, 10), Span(30, 10)], ran.Candidates.Select(one => one.RanFor));
        Assert.Null(ran.Only);
        Assert.Equal(ran.Candidates.Select(one => one.RanFor), Ran(Tuesday, Thursday, "11:40").Candidates.Select(one => one.RanFor));
    }

    [Fact]
    public void A_dial_of_twelve_hours_does_not_say_which_half_of_a_known_day_it_is() =>
        Assert.Equal([Span(2, 40), Span(14, 40)], Ran(TestShop.Local(2025, 3, 11, 9), Thursday, "11:40", day: 11).Candidates.Select(one => one.RanFor));

    [Theory]
    [InlineData("08:59", 12, new[] { 15 * 60 + 29, 27 * 60 + 29 })]
    [InlineData("09:00", 12, new[] { 3 * 60 + 30, 15 * 60 + 30, 27 * 60 + 30 })]
    [InlineData("00:45", 12, new[] { 7 * 60 + 15, 19 * 60 + 15, 31 * 60 + 15 })]
    [InlineData("00:46", 12, new[] { 7 * 60 + 16, 19 * 60 + 16 })]
    [InlineData("00:45", 11, new[] { 7 * 60 + 15 })]
    [InlineData("00:46", 11, new int[0])]
    public void Between_nine_and_a_quarter_to_one_by_the_hands_the_day_may_be_that_of_before_or_after(string shown, int day, int[] minutes)
    {
        var ran = Ran(Tuesday, Thursday, shown, day);

        if (minutes.Length == 0)
        {
            Assert.True(ran.DayFitsNone);
            Assert.Equal(Ran(Tuesday, Thursday, shown).Candidates.ToArray(), ran.Candidates.ToArray());
        }
        else
        {
            Assert.False(ran.DayFitsNone);
            Assert.Equal(minutes, ran.Candidates.Select(one => (int)one.RanFor.TotalMinutes));
        }
    }

    [Fact]
    public void What_the_watch_was_ahead_at_the_start_is_taken_off()
    {
        var ahead = RunTime.Of(new RunStart(Tuesday, 90, null), Thursday, null, RunTime.ReadHands("23:40:00"), 11, Zone);
        var behind = RunTime.Of(new RunStart(Tuesday, -90.5m, null), Thursday, null, RunTime.ReadHands("23:40:00"), 11, Zone);

        Assert.Equal(Span(6, 8) + Duration.FromSeconds(30), ahead.Only);
        Assert.Equal(Span(6, 11) + Duration.FromMilliseconds(30_500), behind.Only);
    }

    [Fact]
    public void Seconds_of_the_hands_are_counted() =>
        Assert.Equal(Span(6, 10) + Duration.FromSeconds(17), Ran(Tuesday, Thursday, "11:40:17", day: 11).Only);

    [Fact]
    public void Hands_read_a_minute_short_of_where_they_began_have_not_gone_round()
    {
        var ran = RunTime.Of(new RunStart(Tuesday, 12, null), Thursday, null, RunTime.ReadHands("17:30"), null, Zone);

        Assert.Equal([Duration.Zero, Duration.FromHours(12) - Duration.FromSeconds(12), Duration.FromHours(24) - Duration.FromSeconds(12), Duration.FromHours(36) - Duration.FromSeconds(12)], ran.Candidates.Select(one => one.RanFor));
    }

    [Fact]
    public void A_watch_that_was_seen_running_did_not_stop_before() =>
        Assert.Equal([Span(18, 10), Span(30, 10)], RunTime.Of(new RunStart(Tuesday, 0, null), Thursday, TestShop.Local(2025, 3, 12, 8), RunTime.ReadHands("11:40"), null, Zone).Candidates.Select(one => one.RanFor));

    // Zurich, clocks forward at 02:00 on 30 March 2025: the night is an hour shorter, and no hands move by it.
    [Fact]
    public void Clocks_that_change_meanwhile_move_no_hands()
    {
        var ran = Ran(TestShop.Local(2025, 3, 29, 18), TestShop.Local(2025, 3, 30, 9), "06:00");

        Assert.Equal([Duration.Zero, Duration.FromHours(12)], ran.Candidates.Select(one => one.RanFor));
        Assert.Equal([Span(13, 59)], Ran(TestShop.Local(2025, 3, 29, 18), TestShop.Local(2025, 3, 30, 9), "07:59").Candidates.Where(one => one.RanFor > Span(2, 0)).Select(one => one.RanFor));
        Assert.Empty(Ran(TestShop.Local(2025, 3, 29, 18), TestShop.Local(2025, 3, 30, 9), "08:30").Candidates.Where(one => one.RanFor > Span(3, 0)));
    }

    [Fact]
    public void A_calendar_that_goes_to_31_in_every_month_is_understood_and_so_is_one_that_was_set_wrong()
    {
        var (start, found) = (TestShop.Local(2025, 4, 30, 10), TestShop.Local(2025, 5, 1, 9));

        Assert.Equal(Span(17, 0), Ran(start, found, "03:00", day: 31).Only);
        Assert.Equal(Span(17, 0), Ran(start, found, "03:00", day: 1).Only);
        Assert.Equal(Span(17, 0), RunTime.Of(new RunStart(start, 0, 7), found, null, RunTime.ReadHands("03:00"), 8, Zone).Only);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("a quarter to six")]
    [InlineData("24:10")]
    public void What_nobody_read_tells_nothing(string? shown) => Assert.Empty(Ran(Tuesday, Thursday, shown).Candidates);

    [Fact]
    public void The_hands_show_again_what_they_showed_at_every_candidate()
    {
        for (var minute = 0; minute < 720; minute += 7)
        {
            var shown = LocalTime.Midnight.PlusMinutes(minute);
            var ran = RunTime.Of(new RunStart(Tuesday, 0, null), Thursday, null, new ShownHands(shown, Duration.FromMinutes(1)), null, Zone);

            Assert.InRange(ran.Candidates.Length, 3, 4);
            Assert.All(ran.Candidates.Where(one => one.RanFor > Duration.Zero), one =>
            {
                Assert.Equal(shown.TickOfDay % (NodaConstants.TicksPerDay / 2), one.Shows.TimeOfDay.TickOfDay % (NodaConstants.TicksPerDay / 2));
                Assert.True(one.RanFor <= Thursday - Tuesday + Duration.FromMinutes(1));
            });
        }
    }

    private static RunTime Ran(Instant start, Instant found, string? shown, int? day = null) =>
        RunTime.Of(new RunStart(start, 0, null), found, null, RunTime.ReadHands(shown), day, Zone);

    private static Duration Span(int hours, int minutes) => Duration.FromHours(hours) + Duration.FromMinutes(minutes);
}
