namespace Workshop.Core.Scans;

/// <summary>What a word card says of the watch that is scanned with it.</summary>
public enum WordCard
{
    /// <summary>The movement is given to cleaning; whoever works there takes it.</summary>
    ToCleaning,

    /// <summary>The case is given to case work.</summary>
    ToCaseWork,

    /// <summary>The whole watch is given to tests and final control.</summary>
    ToControl,

    /// <summary>The whole watch is given to the desk.</summary>
    ToDesk,

    /// <summary>It is given to the person or bench scanned with it.</summary>
    Given,

    /// <summary>The other half of a hand-off: whoever is signed on has it now.</summary>
    Taken,

    /// <summary>It is laid down: at the place scanned with it, or here.</summary>
    PutDown,

    /// <summary>The stage that comes next begins.</summary>
    Started,

    /// <summary>The stage that is being worked on is done.</summary>
    Finished,

    /// <summary>Stop: somebody has a question, and the job waits for a manager.</summary>
    StopQuestion,
}
