namespace Workshop.Core.PublicPage;

/// <summary>Where a watch is, as its customer is told. What goes on inside the house is none of these.</summary>
public enum PublicStage
{
    Expected,
    Received,
    BeingExamined,
    YourDecision,
    Approved,
    WaitingForPart,
    AtTheWatchmaker,
    CaseInWork,
    BeingTested,
    FinalControl,
    Ready,
    OnItsWay,
    YoursAgain,
    Returned,
}
