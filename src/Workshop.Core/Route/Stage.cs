namespace Workshop.Core.Route;

/// <summary>The stages of a job, in the order of the full route.</summary>
public enum Stage
{
    Expected,
    Intake,
    Diagnosis,
    Quote,
    Queue,
    Takedown,
    Cleaning,
    Inspection,
    Rebuild,
    Regulation,
    CaseStrip,
    CaseWork,
    Gaskets,
    DialAndHands,
    Casing,
    WaterTest,
    WearCheck,
    ReserveAndFunctions,
    FinalControl,
    Settlement,
    Ready,
    HandedOver,
    ReturnUnrepaired,
    Closed,
}

/// <summary>The part of the house a stage belongs to; branches run side by side.</summary>
public enum Branch
{
    Front,
    Movement,
    Case,
    Assembly,
    Release,
}

/// <summary>Who or what ends a stage.</summary>
public enum EndedBy
{
    /// <summary>Somebody says so: <c>stage.finished</c>.</summary>
    Told,

    /// <summary>One event alone ends it, by its content.</summary>
    Result,

    /// <summary>It follows from other stages; nobody says it.</summary>
    Reached,

    /// <summary>A command of the desk.</summary>
    Desk,

    /// <summary>The service itself.</summary>
    Service,
}
