using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using static Workshop.Tests.Core.Timekeeping.Measured;

namespace Workshop.Tests.Core.Timekeeping;

/// <summary>By the figures a shop begins with: common practice, no published source.</summary>
public class RateDoubtsTests
{
    [Fact]
    public void A_usual_set_raises_none() => Assert.Empty(Of(Set()));

    [Fact]
    public void An_amplitude_beyond_three_hundred_and_thirty_knocks_or_has_a_wrong_lift_angle()
    {
        Assert.Equal([RateDoubtKind.AmplitudeAboveUsual, RateDoubtKind.AmplitudeAboveUsual], Kinds(Set(Shifted(0, 40))));
        var doubts = Of(Set(Shifted(0, 41)));

        Assert.Equal(new RateDoubt(RateDoubtKind.AmplitudeHigh, 331, 330, Position.DialUp), doubts[0]);
        Assert.Equal("331° dial up: knocking, or the lift angle?", doubts[0].Line().ToString());
        Assert.False(doubts[1].Asks);
    }

    [Theory]
    [InlineData(43, null, RateDoubtKind.LiftAngleUnusual)]
    [InlineData(44, null, null)]
    [InlineData(56, null, null)]
    [InlineData(57, null, RateDoubtKind.LiftAngleUnusual)]
    [InlineData(52, 50, RateDoubtKind.LiftAngleUnlikeCalibre)]
    [InlineData(38, 38, null)]
    public void A_lift_angle_is_compared_with_the_calibres_where_that_is_known(int told, int? calibre, RateDoubtKind? doubt) =>
        Assert.Equal(
            doubt is { } kind ? [kind] : [],
            Kinds(Set(told: set => set with { LiftAngleDegrees = told }, terms: terms => terms with { LiftAngleDegrees = calibre })));

    [Theory]
    [InlineData(28_800, null, null)]
    [InlineData(28_000, null, RateDoubtKind.VibrationsUnusual)]
    [InlineData(21_600, 28_800, RateDoubtKind.VibrationsUnlikeCalibre)]
    [InlineData(16_200, 16_200, null)]
    public void Vibrations_are_compared_with_the_calibres_where_they_are_known(int told, int? calibre, RateDoubtKind? doubt) =>
        Assert.Equal(
            doubt is { } kind ? [kind] : [],
            Kinds(Set(told: set => set with { VibrationsPerHour = told }, terms: terms => terms with { VibrationsPerHour = calibre })));

    [Fact]
    public void From_three_positions_on_rates_that_are_all_alike_were_typed()
    {
        RateReading[] alike = [new(Position.DialUp, 4), new(Position.DialDown, 4.0m), new(Position.CrownDown, 4)];

        Assert.Equal([RateDoubtKind.RatesAlike], Kinds(Set(alike)));
        Assert.Empty(Kinds(Set(alike.Take(2))));
        Assert.Empty(Kinds(Set([.. alike.Take(2), new(Position.CrownDown, 4.1m)])));
        Assert.Empty(Kinds(Set(alike, null, "quartz")));
    }

    [Fact]
    public void Dial_up_against_dial_down_may_be_twenty_degrees_apart()
    {
        Assert.Empty(Kinds(Set([new(Position.DialUp, 4, 280), new(Position.DialDown, 5, 260)])));
        Assert.Equal([RateDoubtKind.FlatAmplitudesApart], Kinds(Set([new(Position.DialUp, 4, 280.1m), new(Position.DialDown, 5, 260)])));
    }

    [Theory]
    [InlineData(301, 199, true)]
    [InlineData(-301, 199, true)]
    [InlineData(300, 199, false)]
    [InlineData(301, 200, false)]
    public void Far_off_and_weak_together_is_magnetism_or_touching_coils(int rate, int amplitude, bool doubted) =>
        Assert.Equal(doubted ? [RateDoubtKind.FarOffAndWeak] : [], Kinds(Set([new(Position.DialUp, rate, 250), new(Position.CrownDown, 20, amplitude)])));

    [Theory]
    [InlineData(WindState.Full, 0.25, false)]
    [InlineData(WindState.Full, 1, false)]
    [InlineData(WindState.Full, 0.2, true)]
    [InlineData(WindState.Full, 24, true)]
    [InlineData(WindState.OneDay, 23, false)]
    [InlineData(WindState.OneDay, 25, false)]
    [InlineData(WindState.OneDay, 25.5, true)]
    [InlineData(WindState.Part, 12, false)]
    public void A_wind_state_that_is_not_that_of_its_hours_is_asked_about(WindState wind, double hours, bool doubted) =>
        Assert.Equal(doubted ? [RateDoubtKind.WindUnlikeHours] : [], Kinds(Set(wind: wind, told: set => set with { HoursSinceFullWind = (decimal)hours })));

    [Fact]
    public void A_corrected_lift_angle_clears_the_amplitude_that_was_too_high() =>
        Assert.DoesNotContain(Of(Set(Shifted(0, 41)) with { RightLiftAngleDegrees = 50 }), doubt => doubt.Kind == RateDoubtKind.AmplitudeHigh);

    [Fact]
    public void Every_doubt_fits_a_line_in_both_languages() => Assert.All(Enum.GetValues<RateDoubtKind>(), kind =>
    {
        var line = new RateDoubt(kind, 28_800, 28_800, Position.CrownRight).Line();
        Assert.InRange(line.In(Language.English).Length, 1, Phrase.LineAtMost);
        Assert.InRange(line.In(Language.German).Length, 1, Phrase.LineAtMost);
    });

    private static RateDoubt[] Of(RateSet set) => [.. RateDoubts.Of(set, TimekeepingRules.Usual)];

    private static IEnumerable<RateDoubtKind> Kinds(RateSet set) => Of(set).Select(doubt => doubt.Kind);
}
