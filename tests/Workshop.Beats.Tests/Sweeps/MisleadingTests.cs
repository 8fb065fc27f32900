using Workshop.Beats.Listening;
using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Beats.Tests.Sweeps;

/// <summary>Recordings, by tuning seeds, that once misled the listener; each stands for its kind.</summary>
public class MisleadingTests
{
    /// <summary>A fold over two of its periods shows two ticks, and tocks that hardly stand out.</summary>
    [Theory]
    [InlineData(310443, 30, 0, 6)]
    [InlineData(311463, 30, 0, 6)]
    [InlineData(312069, 10, 0, 6)]
    [InlineData(341619, 30, 0, 6)]
    public void A_fast_watch_whose_other_beats_are_quiet_is_not_taken_for_a_slow_one(int seed, double seconds, double least, double most) =>
        Assert.NotEqual(18000, Heard(36000, seed, seconds, least, most).Reading!.VibrationsPerHour);

    /// <summary>An amplitude from the impulse would be half too high, in ticks and tocks alike.</summary>
    [Theory]
    [InlineData(18000, 600078, 60, 3, 11)]
    [InlineData(21600, 600428, 60, 3, 11)]
    [InlineData(18000, 600690, 60, 3, 11)]
    [InlineData(21600, 602072, 60, 3, 11)]
    [InlineData(25200, 602139, 30, 3, 11)]
    [InlineData(18000, 661782, 60, 5, 12)]
    [InlineData(36000, 661121, 30, 5, 12)]
    [InlineData(21600, 661172, 10, 5, 12)]
    public void Where_the_unlocking_is_lost_in_the_noise_there_is_no_amplitude(int vibrations, int seed, double seconds, double least, double most)
    {
        var amplitude = Heard(vibrations, seed, seconds, least, most).Reading!.AmplitudeDegrees;

        Assert.Equal(Confidence.Unavailable, amplitude.Confidence);
        Assert.Contains("amplitude-unlocking-may-be-hidden", amplitude.Reasons);
    }

    /// <summary>In noise the drop leads a beat, and moves as the amplitude drifts.</summary>
    [Theory]
    [InlineData(25200, 301239, 10, 0, 3)]
    [InlineData(25200, 301779, 10, 0, 3)]
    [InlineData(36000, 302087, 10, 0, 3)]
    [InlineData(21600, 302126, 10, 0, 3)]
    public void A_rate_in_noise_that_follows_the_amplitude_is_not_given_or_says_how_far_it_may_be_off(int vibrations, int seed, double seconds, double least, double most) =>
        Assert.Null(Heard(vibrations, seed, seconds, least, most).Wrong());

    private static Score Heard(int vibrations, int seed, double seconds, double least, double most) =>
        Score.Of(Scenes.Ordinary(vibrations, new Chance(seed).Between(least, most), seconds, seed));
}
