namespace Workshop.Core.Jobs;

/// <summary>Decides about events that ask to enter a job. May refuse; runs once for each event.</summary>
public static class JobRules
{
    public static Decision Decide(JobHistory history, Incoming incoming, Facts facts) => throw new NotSupportedException();
}
