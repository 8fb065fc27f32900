using Workshop.Core.FinalControls;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;

namespace Workshop.Tests.Core.Jobs;

public class EventFaultsTests
{
    public static TheoryData<WorkshopEvent, string> Faulty => new()
    {
        { new StageStarted { Stage = Stage.Queue }, "/stage" },
        { new StageStarted { Stage = Stage.Ready }, "/stage" },
        { new StageStarted { Stage = Stage.Intake }, "/stage" },
        { new StageStarted { Stage = Stage.Quote }, "/stage" },
        { new StageStarted { Stage = Stage.HandedOver }, "/stage" },
        { new StageFinished { Stage = Stage.Expected }, "/stage" },
        { new StageFinished { Stage = Stage.Queue }, "/stage" },
        { new StageFinished { Stage = Stage.Ready }, "/stage" },
        { new StageFinished { Stage = Stage.Closed }, "/stage" },
        { new StageSentBack { Stage = Stage.FinalControl, To = Stage.Queue, Reason = "?" }, "/to" },
        { new StageSentBack { Stage = Stage.HandedOver, To = Stage.Settlement, Reason = "?" }, "/to" },
        { new StageSentBack { Stage = Stage.FinalControl, To = Stage.Quote, Reason = "?" }, "/to" },
        { new FinalControlRefused { To = Stage.Intake, Reason = "?" }, "/to" },
        { new RateSetRecorded { Readings = [] }, "/readings" },
        { new RateSetRecorded { Readings = [new(Position.DialUp, 1), new(Position.DialUp, 2)] }, "/readings" },
        { new PieceGiven { Kind = PieceKind.Case }, "/to" },
        { new PiecePut { Kind = PieceKind.Case }, "/to" },
    };

    [Theory]
    [MemberData(nameof(Faulty))]
    public void What_is_wrong_in_the_event_alone_names_the_member(WorkshopEvent one, string pointer) =>
        Assert.Equal(pointer, Assert.Single(EventFaults.Of(one)).Pointer);

    public static TheoryData<WorkshopEvent> Sound => new(
        new StageStarted { Stage = Stage.FinalControl },
        new StageFinished { Stage = Stage.Settlement },
        new StageFinished { Stage = Stage.Casing },
        new StageSentBack { Stage = Stage.FinalControl, To = Stage.Diagnosis, Reason = "a hair" },
        new FinalControlRefused { To = Stage.DialAndHands, Reason = "a hair" },
        Story.RateSet,
        new PieceTaken());

    [Theory]
    [MemberData(nameof(Sound))]
    public void What_only_this_job_could_object_to_is_no_fault_of_the_event(WorkshopEvent one) => Assert.Empty(EventFaults.Of(one));
}
