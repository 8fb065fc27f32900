using NodaTime;
using Workshop.Core.Outgoing;

namespace Workshop.Tests.Core.Outgoing;

public class RetryPlanTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 3, 2, 9, 0);

    // Standard Webhooks 1.0.0, "deliverability and reliability", the example of a retry plan: delay and time since the first attempt.
    [Fact]
    public void Ten_attempts_are_made_at_the_times_of_the_standards_example()
    {
        string[] sinceStart = ["0:00:05", "0:05:05", "0:35:05", "2:35:05", "7:35:05", "17:35:05", "31:35:05", "51:35:05", "75:35:05"];
        var at = Now;
        var times = new List<string>();
        for (var attempts = 1; RetryPlan.Next(attempts, at, chance: 0) is { } next; attempts++)
        {
            at = next;
            var since = at - Now;
            times.Add($"{(int)since.TotalHours}:{since.Minutes:00}:{since.Seconds:00}");
        }

        Assert.Equal(sinceStart, times);
    }

    [Fact]
    public void Chance_adds_at_most_a_tenth_and_never_comes_too_early()
    {
        foreach (var attempts in Enumerable.Range(1, 9))
        {
            var plain = RetryPlan.Next(attempts, Now, 0)!.Value - Now;
            Assert.Equal(plain * 1.1, RetryPlan.Next(attempts, Now, 1)!.Value - Now);
        }
    }

    [Theory]
    [InlineData(1, 3_600, 3_600)]
    [InlineData(1, 2, 5)]
    [InlineData(2, 10, 300)]
    [InlineData(1, 1_000_000, 86_400)]
    public void A_receivers_wish_to_wait_is_heeded_up_to_a_day_and_shortens_nothing(int attempts, int wish, int seconds) =>
        Assert.Equal(Now + Duration.FromSeconds(seconds), RetryPlan.Next(attempts, Now, 0, Duration.FromSeconds(wish)));

    // The same section: 2xx is success, 3xx failure, 410 means that nothing more is wanted, 429, 502 and 504 that less is.
    [Theory]
    [InlineData(200, SendingVerdict.Delivered)]
    [InlineData(204, SendingVerdict.Delivered)]
    [InlineData(299, SendingVerdict.Delivered)]
    [InlineData(301, SendingVerdict.Later)]
    [InlineData(308, SendingVerdict.Later)]
    [InlineData(400, SendingVerdict.Later)]
    [InlineData(404, SendingVerdict.Later)]
    [InlineData(410, SendingVerdict.Gone)]
    [InlineData(429, SendingVerdict.HoldBack)]
    [InlineData(500, SendingVerdict.Later)]
    [InlineData(502, SendingVerdict.HoldBack)]
    [InlineData(503, SendingVerdict.Later)]
    [InlineData(504, SendingVerdict.HoldBack)]
    [InlineData(null, SendingVerdict.HoldBack)]
    public void An_answer_says_what_becomes_of_the_message(int? status, SendingVerdict verdict) => Assert.Equal(verdict, RetryPlan.Of(status));

    [Fact]
    public void A_receiver_that_is_away_for_a_while_and_says_how_long_is_left_in_peace() => Assert.Equal(SendingVerdict.HoldBack, RetryPlan.Of(503, wish: true));

    [Theory]
    [InlineData(1, 5)]
    [InlineData(2, 10)]
    [InlineData(3, 20)]
    [InlineData(6, 160)]
    [InlineData(7, 300)]
    [InlineData(1_000_000, 300)]
    public void A_receiver_that_is_not_there_is_looked_for_less_and_less_often_but_every_five_minutes(int failures, int seconds) =>
        Assert.Equal(Duration.FromSeconds(seconds), RetryPlan.Hold(failures));
}
