using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;
using Workshop.Service.Features.Devices;
using Workshop.Service.Features.Oneself;

namespace Workshop.Service.Tests.Api.Oneself;

public class TimeTests
{
    private static readonly Instant Noon = Instant.FromUtc(2026, 3, 2, 12, 0);

    [Fact]
    public async Task A_device_is_told_the_time_to_the_millisecond_and_that_nobody_vouches_for_it()
    {
        await using var host = await WorkshopHost.Start();
        host.Clock.Advance(Duration.FromMilliseconds(250));

        var answer = await host.Bench.GetAsync("/v1/time");
        var time = await answer.Json();

        Assert.Equal("2026-03-02T09:00:00.250Z", time.GetProperty("now").GetString());
        Assert.Equal("unknown", time.GetProperty("state").GetString());
        Assert.Equal("no-store", answer.Headers.CacheControl!.ToString());
    }

    [Fact]
    public async Task A_jump_of_the_services_own_clock_is_told()
    {
        await using var host = await WorkshopHost.Start();
        var watch = host.Services.GetRequiredService<ClockWatch>();
        watch.Look();
        host.Clock.Advance(Duration.FromMinutes(5));
        watch.Look();

        Assert.Equal("stepped", (await (await host.Bench.GetAsync("/v1/time")).Json()).GetProperty("state").GetString());
    }

    [Theory]
    [InlineData(0, ClockState.Unknown)]
    [InlineData(2, ClockState.Unknown)]
    [InlineData(-2, ClockState.Unknown)]
    [InlineData(2.1, ClockState.Stepped)]
    [InlineData(-2.1, ClockState.Stepped)]
    [InlineData(86_400, ClockState.Stepped)]
    public void A_clock_has_jumped_when_it_went_on_more_than_two_seconds_otherwise_than_one_that_only_counts(double seconds, ClockState expected)
    {
        var (watch, wall, counting) = Watch();
        watch.Look(systemSaysSynchronised: false);
        counting.GoOn(TimeSpan.FromMinutes(1));
        wall.Advance(Duration.FromMinutes(1) + Duration.FromSeconds(seconds));

        watch.Look(systemSaysSynchronised: false);

        Assert.Equal(expected, watch.State);
    }

    [Fact]
    public void A_jump_is_told_for_an_hour_by_the_clock_that_only_counts()
    {
        var (watch, wall, counting) = Watch();
        watch.Look(false);
        wall.Advance(Duration.FromDays(-400));
        watch.Look(false);
        counting.GoOn(TimeSpan.FromMinutes(59));
        wall.Advance(Duration.FromMinutes(59));
        watch.Look(false);
        var before = watch.State;
        counting.GoOn(TimeSpan.FromMinutes(1));

        Assert.Equal((ClockState.Stepped, ClockState.Unknown), (before, watch.State));
    }

    [Fact]
    public void Only_the_machines_own_clock_can_be_synchronised()
    {
        var counting = new Counting();
        var own = new ClockWatch(SystemClock.Instance, counting, NullLogger<ClockWatch>.Instance);
        own.Look(systemSaysSynchronised: true);
        var (other, _, _) = Watch();
        other.Look(systemSaysSynchronised: true);

        Assert.Equal((ClockState.Synchronised, ClockState.Unknown), (own.State, other.State));
        own.Look(systemSaysSynchronised: false);
        Assert.Equal(ClockState.Unknown, own.State);
    }

    [Fact]
    public void Wrong_digits_of_an_address_are_forgotten_after_a_minute()
    {
        var counting = new Counting();
        var wrong = new WrongDigits(counting);
        var tablet = System.Net.IPAddress.Parse("192.0.2.7");
        for (var i = 0; i < WrongDigits.AtMost; i++)
        {
            Assert.Null(wrong.Begin(tablet));
        }

        counting.GoOn(TimeSpan.FromSeconds(59));
        Assert.Equal(TimeSpan.FromSeconds(1), wrong.Begin(tablet));
        Assert.Null(wrong.Begin(System.Net.IPAddress.Parse("192.0.2.8")));
        counting.GoOn(TimeSpan.FromSeconds(1));
        Assert.Null(wrong.Begin(tablet));
    }

    private static (ClockWatch Watch, FakeClock Wall, Counting Counting) Watch()
    {
        var wall = new FakeClock(Noon);
        var counting = new Counting();
        return (new ClockWatch(wall, counting, NullLogger<ClockWatch>.Instance), wall, counting);
    }

    /// <summary>A clock that only counts, as far as the test lets it.</summary>
    private sealed class Counting : TimeProvider
    {
        private long ticks;

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;

        public override long GetTimestamp() => ticks;

        public void GoOn(TimeSpan by) => ticks += by.Ticks;
    }
}
