namespace Workshop.Core.Intake;

/// <summary>Whether case and bracelet are to be polished. An unwanted polish cannot be undone, so that <c>ask</c> is no answer.</summary>
public enum PolishWish
{
    Yes,
    No,
    Ask,
}

/// <summary>A place of the watch that is looked at when it comes in.</summary>
public enum ConditionPlace
{
    Dial,
    Crystal,
    Bezel,
    Flanks,
    Lugs,
    Back,
    Crown,
    Pushers,
    Bracelet,
    Clasp,
}

/// <summary>What is seen of wear and damage at one place.</summary>
public enum ConditionWord
{
    NoneSeen,
    Light,
    Clear,
    Deep,
    Missing,
    NotLooked,
}

/// <summary>Whether the watch ran when it came.</summary>
public enum ArrivalRun
{
    Running,
    Stopped,
    Unknown,
}

/// <summary>How a crown, a pusher or a function did when the watch came.</summary>
public enum ArrivalState
{
    Works,
    Faulty,
    Missing,
    NotTried,
}

/// <summary>From where the date comes that is kept nine times in ten.</summary>
public enum ReachableBasis
{
    /// <summary>Counted from what the shop has delivered.</summary>
    OwnFigures,

    /// <summary>The promised days of the kind of work, and the usual wait for an approval.</summary>
    Usual,
}
