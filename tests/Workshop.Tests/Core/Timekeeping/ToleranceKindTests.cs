using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core.Timekeeping;

/// <summary>The figures a shop begins with: common practice, no published source.</summary>
public class ToleranceKindTests
{
    [Theory]
    [InlineData("modern-automatic-fine", 6, -2, 6, 10, 270, 315, 250, 210, 0.3, 6)]
    [InlineData("modern-automatic", 6, -4, 10, 15, 265, 315, 240, 200, 0.5, 10)]
    [InlineData("modern-chronograph", 6, -4, 12, 20, 265, 310, 240, 200, 0.5, 12)]
    [InlineData("hand-wound", 5, -5, 12, 20, 260, 310, 230, 190, 0.6, 12)]
    [InlineData("vintage", 3, -20, 30, 40, 230, 290, 200, 170, 1.0, 25)]
    [InlineData("small-movement", 3, -20, 30, 45, 220, 290, 190, 160, 1.0, 30)]
    public void A_mechanical_kind_has_its_usual_limits(
        string kind, int positions, double lowest, double highest, double spread, double flatLeast, double flatMost, double vertical, double verticalOneDay, double beatError, double isochronism)
    {
        var usual = ToleranceKind.UsualByName[kind];

        Assert.Equal(positions, usual.RequiredPositions().Length);
        Assert.Equal(new RateWindow((decimal)lowest, (decimal)highest), usual.MeanFullPerDaySeconds);
        Assert.Equal(new Bounds((decimal)flatLeast, (decimal)flatMost), usual.FlatFullDegrees);
        Assert.Equal(
            ((decimal)spread, (decimal)vertical, (decimal)verticalOneDay, (decimal)beatError, (decimal)isochronism),
            (usual.SpreadFullSeconds, usual.VerticalFullLeastDegrees, usual.VerticalOneDayLeastDegrees, usual.BeatErrorMostMilliseconds, usual.IsochronismMostSeconds));
        Assert.Equal(usual.MeanFullPerDaySeconds, usual.Worn());
        Assert.Null(usual.Quartz);
    }

    [Fact]
    public void A_worn_out_movement_has_few_limits_and_no_upper_one_for_the_amplitude()
    {
        var usual = ToleranceKind.UsualByName["pin-pallet-or-worn"];

        Assert.Equal((new RateWindow(-60, 60), true, 60m, 1.5m), (usual.MeanFullPerDaySeconds!.Value, usual.ByAgreement!.Value, usual.SpreadFullSeconds!.Value, usual.BeatErrorMostMilliseconds!.Value));
        Assert.Equal(new Bounds(180, null), usual.FlatFullDegrees);
        Assert.Null(usual.VerticalFullLeastDegrees);
        Assert.Null(usual.IsochronismMostSeconds);
    }

    [Fact]
    public void A_chronograph_that_runs_is_compared_with_itself_stopped()
    {
        var running = ToleranceKind.UsualByName["modern-chronograph"].Running!;

        Assert.Equal((PositionSet.Six, 8m, 25m, 210m, 180m, 0.6m), (running.Positions, running.MeanWithinOfStoppedSeconds, running.SpreadFullSeconds, running.VerticalFullLeastDegrees, running.VerticalOneDayLeastDegrees, running.BeatErrorMostMilliseconds));
        Assert.Equal(new AmplitudeDrop(40, 25, 40), running.AmplitudeDropMostDegrees);
    }

    [Fact]
    public void A_quartz_watch_has_limits_of_its_own_and_none_of_a_balance()
    {
        var usual = ToleranceKind.UsualByName["quartz"];

        Assert.Equal(new RateWindow(-0.5m, 0.5m), usual.Worn());
        Assert.Equal([10, 60], usual.Quartz!.WindowSeconds.ToArray());
        Assert.Equal((2.0m, 5.0m, 1.55m), (usual.Quartz.CurrentMicroamperesMost, usual.Quartz.CurrentChronographMicroamperesMost, usual.Quartz.CellVoltsLeast));
        Assert.Equal((new Bounds(1, 3), new Bounds(1.1m, 1.3m)), (usual.Quartz.CoilKilohm, usual.Quartz.LowestVolts));
        Assert.Null(usual.FlatFullDegrees);
        Assert.Empty(usual.RequiredPositions());
    }

    [Fact]
    public void Eight_kinds_are_there_and_each_is_right() =>
        Assert.Equal((8, 0), (ToleranceKind.Usual.Length, ToleranceKind.Faults(ToleranceKind.Usual, "/tolerances").Count()));

    [Fact]
    public void Only_the_two_kinds_of_old_movements_are_by_agreement() =>
        Assert.Equal(["vintage", "pin-pallet-or-worn"], ToleranceKind.Usual.Where(kind => kind.ByAgreement == true).Select(kind => kind.Kind));

    [Fact]
    public void An_aim_is_given_for_automatics() =>
        Assert.Equal([(2m, "modern-automatic-fine"), (4m, "modern-automatic")], ToleranceKind.Usual.Where(kind => kind.AimPerDaySeconds is not null).Select(kind => (kind.AimPerDaySeconds!.Value, kind.Kind)));

    [Fact]
    public void Every_fault_in_a_list_of_kinds_is_named()
    {
        var quartz = ToleranceKind.UsualByName["quartz"];
        var faults = ToleranceKind.Faults(
            [
                quartz,
                quartz,
                new ToleranceKind { Kind = "x-nothing" },
                quartz with { Kind = "x-quartz", FlatFullDegrees = new Bounds(200, null) },
                ToleranceKind.UsualByName["vintage"] with { Kind = "x-upside-down", MeanFullPerDaySeconds = new RateWindow(30, -20) },
            ],
            "/tolerances");

        Assert.Equal(
            ["/tolerances/1/kind", "/tolerances/2/meanFullPerDaySeconds", "/tolerances/3/quartz", "/tolerances/4/meanFullPerDaySeconds"],
            faults.Select(fault => fault.Pointer));
    }
}
