using NodaTime;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.FunctionChecks;

/// <summary>Figures are common practice of the trade.</summary>
public class FunctionRuleTests
{
    [Theory]
    [InlineData(WatchFunction.DateInstant, null, "23:54", false)]
    [InlineData(WatchFunction.DateInstant, null, "23:55", true)]
    [InlineData(WatchFunction.DateInstant, null, "00:05", true)]
    [InlineData(WatchFunction.DateInstant, null, "00:06", false)]
    [InlineData(WatchFunction.DateSemiInstant, "22:29", "00:10", false)]
    [InlineData(WatchFunction.DateSemiInstant, "22:30", "00:10", true)]
    [InlineData(WatchFunction.DateSemiInstant, "23:45", "00:11", false)]
    [InlineData(WatchFunction.DateSemiInstant, "23:46", null, false)]
    [InlineData(WatchFunction.DateDragging, "21:00", "00:45", true)]
    [InlineData(WatchFunction.DateDragging, "22:31", "00:45", false)]
    [InlineData(WatchFunction.DateDragging, "20:59", null, false)]
    [InlineData(WatchFunction.DateDragging, "21:00", "00:46", false)]
    [InlineData(WatchFunction.QuickCorrection, null, null, null)]
    public void A_calendar_changes_within_its_times(WatchFunction function, string? began, string? done, bool? right) =>
        Assert.Equal(right, By(Told(function) with { Value = new FunctionValue { Began = Time(began), Done = Time(done) } }));

    [Theory]
    [InlineData(10, 10, true)]
    [InlineData(12, 12, true)]
    [InlineData(10, 9, false)]
    [InlineData(3, 2, false)]
    [InlineData(3, 3, null)]
    public void A_reset_is_right_ten_times_out_of_ten(int tried, int right, bool? verdict) =>
        Assert.Equal(verdict, By(Told(WatchFunction.ChronographReset) with { Trials = new TriedTimes(tried, right) }));

    [Theory]
    [InlineData(58.9, false)]
    [InlineData(59, true)]
    [InlineData(61, true)]
    [InlineData(61.1, false)]
    public void A_minute_counter_jumps_at_59_to_61_seconds(double seconds, bool right) =>
        Assert.Equal(right, By(Told(WatchFunction.MinuteCounter) with { Value = new FunctionValue { Seconds = (decimal)seconds } }));

    [Fact]
    public void Every_figure_that_was_told_is_held_against_its_limit()
    {
        Assert.True(By(Told(WatchFunction.MinuteCounter) with { Value = new FunctionValue { MovedSeconds = 58 } }));
        Assert.False(By(Told(WatchFunction.MinuteCounter) with { Value = new FunctionValue { MovedSeconds = 60.5m } }));
        Assert.True(By(Told(WatchFunction.HourCounter) with { Value = new FunctionValue { Minutes = -2 } }));
        Assert.False(By(Told(WatchFunction.HourCounter) with { Value = new FunctionValue { Minutes = 2.5m } }));
        Assert.True(By(Told(WatchFunction.DayAndDate) with { Value = new FunctionValue { Minutes = 15, Done = new LocalTime(3, 0) } }));
        Assert.False(By(Told(WatchFunction.DayAndDate) with { Value = new FunctionValue { Minutes = 16 } }));
        Assert.True(By(Told(WatchFunction.ChronographStart) with { Value = new FunctionValue { Graduations = 0.5m } }));
        Assert.False(By(Told(WatchFunction.ChronographStart) with { Value = new FunctionValue { Graduations = 0.6m } }));
        Assert.False(By(Told(WatchFunction.ChronographReset) with { Value = new FunctionValue { Graduations = 0.3m }, Trials = new TriedTimes(10, 10) }));
        Assert.False(By(Told(WatchFunction.WindingAndSetting) with { Value = new FunctionValue { Turns = 1.5m } }));
        Assert.True(By(Told(WatchFunction.WindingAndSetting) with { Value = new FunctionValue { Turns = 2 } }));
    }

    [Theory]
    [InlineData(CalibreKind.Automatic, true, "date-instant|date-semi-instant|date-dragging, quick-correction, winding-and-setting, cannon-pinion, rotor")]
    [InlineData(CalibreKind.HandWound, false, "winding-and-setting, cannon-pinion")]
    [InlineData(CalibreKind.Chronograph, null, "chronograph-start, chronograph-stop, chronograph-reset, minute-counter, pusher-force, winding-and-setting, cannon-pinion")]
    [InlineData(CalibreKind.Unknown, null, "winding-and-setting, cannon-pinion")]
    public void What_a_watch_has_to_show_follows_from_its_movement(CalibreKind kind, bool? calendar, string shown) =>
        Assert.Equal(
            shown,
            string.Join(", ", new MovementFacts(kind, calendar).ToShow(FunctionRules.Usual).Select(row => string.Join('|', row.Select(Workshop.Core.Words.Word.Of)))));

    [Fact]
    public void A_rule_names_one_stage_that_a_watch_goes_back_to()
    {
        var rules = new FunctionRules { Functions = [Rule(WatchFunction.Rotor, Stage.Settlement), Rule(WatchFunction.Rotor, Stage.Rebuild)] };

        Assert.Equal(["/functions/functions/0/backTo", "/functions/functions/1/function"], rules.Faults("/functions").Select(fault => fault.Pointer));
        Assert.Empty(FunctionRules.Usual.Faults("/functions"));
        Assert.All(Enum.GetValues<WatchFunction>(), function => Assert.NotNull(FunctionRules.Usual.Of(function)));

        static FunctionRule Rule(WatchFunction function, Stage back) => new() { Function = function, FittedTo = FittedTo.Every, BackTo = back };
    }

    [Theory]
    [InlineData(null, null, "/passed")]
    [InlineData(true, true, "/passed")]
    [InlineData(true, null, null)]
    [InlineData(null, true, null)]
    public void A_function_is_right_or_not_or_not_there(bool? passed, bool? notFitted, string? pointer) =>
        Assert.Equal(pointer, EventFaults.Of(new FunctionChecked { Function = WatchFunction.Rotor, Passed = passed, NotFitted = notFitted }).Select(fault => fault.Pointer).SingleOrDefault());

    [Fact]
    public void A_figure_belongs_to_its_function()
    {
        Assert.Equal(["/value/seconds"], EventFaults.Of(Told(WatchFunction.Rotor) with { Value = new FunctionValue { Seconds = 60 } }).Select(fault => fault.Pointer));
        Assert.Equal(["/trials"], EventFaults.Of(Told(WatchFunction.ChronographReset) with { Trials = new TriedTimes(3, 4) }).Select(fault => fault.Pointer));
    }

    private static bool? By(FunctionChecked told) => FunctionRules.Usual.Of(told.Function)!.ByFigures(told);

    private static FunctionChecked Told(WatchFunction function) => new() { Function = function, Passed = true };

    private static LocalTime? Time(string? text) => text is null ? null : new LocalTime(int.Parse(text[..2]), int.Parse(text[3..]));
}
