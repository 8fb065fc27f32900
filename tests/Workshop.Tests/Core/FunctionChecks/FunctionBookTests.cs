using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Gates;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.FunctionChecks;

public class FunctionBookTests
{
    [Fact]
    public void A_job_that_tells_of_no_function_is_asked_for_none() =>
        Assert.Equal(StageState.Done, Cased().Finish(Stage.ReserveAndFunctions)[Stage.ReserveAndFunctions]);

    [Fact]
    public void Once_a_function_was_tried_the_end_of_the_stage_asks_for_the_others_by_name()
    {
        var story = Cased().Does(Right(WatchFunction.Rotor)).Does(Wrong(WatchFunction.CannonPinion));
        var asked = story.RefusedBy(new StageFinished { Stage = Stage.ReserveAndFunctions });

        Assert.Equal(("functions-shown", Strength.Ask), (asked.Gate, asked.Strength));
        Assert.Equal("winding-and-setting", asked.Names["open"]);
        Assert.Equal("cannon-pinion", asked.Names["notRight"]);

        story.Does(Right(WatchFunction.WindingAndSetting)).Does(Right(WatchFunction.CannonPinion)).Finish(Stage.ReserveAndFunctions);
    }

    [Fact]
    public void A_tap_goes_on_with_what_is_still_open() =>
        Cased().Does(Right(WatchFunction.Rotor)).Does(new StageFinished { Stage = Stage.ReserveAndFunctions }, despite: ["functions-shown"]);

    [Fact]
    public void One_way_of_changing_the_date_is_enough_and_what_is_not_fitted_is_not_asked_for()
    {
        var story = Cased();
        story.Watch = new WatchKnown { Kind = CalibreKind.HandWound, Calendar = true };
        story.Does(Right(WatchFunction.DateDragging)).Does(Right(WatchFunction.WindingAndSetting)).Does(Right(WatchFunction.CannonPinion))
            .Does(new FunctionChecked { Function = WatchFunction.QuickCorrection, NotFitted = true });

        Assert.Equal([FunctionState.Right, FunctionState.NotFitted, FunctionState.Right, FunctionState.Right], story.Job.Functions.Stand(story.Job.Standings).Select(one => one.State));
        story.Finish(Stage.ReserveAndFunctions);
    }

    [Fact]
    public void A_function_nobody_asked_for_counts_when_it_is_not_right()
    {
        var story = Cased().Does(Right(WatchFunction.Rotor)).Does(Right(WatchFunction.WindingAndSetting)).Does(Right(WatchFunction.CannonPinion)).Does(Wrong(WatchFunction.Flyback));

        Assert.Equal("flyback", story.RefusedBy(new StageFinished { Stage = Stage.ReserveAndFunctions }).Names["notRight"]);
    }

    [Fact]
    public void Nine_of_ten_told_as_right_is_kept_as_said_and_flagged()
    {
        var story = Cased();
        var said = story.Says(new FunctionChecked { Function = WatchFunction.ChronographReset, Passed = true, Trials = new TriedTimes(10, 9) });

        Assert.Equal(Outcome.Accepted, said.Outcome);
        Assert.Contains(EntryFlag.FunctionFiguresDiffer, said.Flags);
        Assert.Equal(FunctionState.Right, story.Job.Functions.Stand(story.Job.Standings).Single(one => one.OneOf.Contains(WatchFunction.ChronographReset)).State);
        Assert.DoesNotContain(EntryFlag.FunctionFiguresDiffer, story.Says(new FunctionChecked { Function = WatchFunction.ChronographReset, Passed = false, Trials = new TriedTimes(10, 9) }).Flags);
    }

    [Fact]
    public void An_opened_case_leaves_them_standing_and_a_new_rebuild_asks_for_them_again()
    {
        var story = Cased().Does(Right(WatchFunction.Rotor)).After(Duration.FromMinutes(1)).Does(new CaseOpened());
        Assert.Equal(FunctionState.Right, Rotor(story));

        story.After(Duration.FromMinutes(1)).SendBack(Stage.Casing, Stage.Rebuild);
        Assert.Equal(FunctionState.Open, Rotor(story));
        Assert.Single(story.Job.Functions.Checks);

        story.Through(Stage.DialAndHands).After(Duration.FromMinutes(1)).Does(Right(WatchFunction.Rotor));
        Assert.Equal(FunctionState.Right, Rotor(story));
    }

    private static FunctionState Rotor(Story story) => story.Job.Functions.Stand(story.Job.Standings).Single(one => one.OneOf.Contains(WatchFunction.Rotor)).State;

    private static Story Cased()
    {
        var story = new Story().Through(Stage.Casing).After(Duration.FromMinutes(5));
        story.Watch = new WatchKnown { Kind = CalibreKind.Automatic };
        return story;
    }

    private static FunctionChecked Right(WatchFunction function) => new() { Function = function, Passed = true };

    private static FunctionChecked Wrong(WatchFunction function) => new() { Function = function, Passed = false };
}
