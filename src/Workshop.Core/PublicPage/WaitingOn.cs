namespace Workshop.Core.PublicPage;

/// <summary>On whom a watch waits, as its customer is told.</summary>
public enum WaitingOn
{
    You,
    Part,
    Us,
    Nobody,
}

/// <summary>What it waits for. What goes on inside the house is none of these.</summary>
public enum WaitingFor
{
    /// <summary>The answer to a quote, or to a question that keeps the work from going on.</summary>
    Decision,
    Deposit,

    /// <summary>Something the house has to know before the work can begin.</summary>
    Information,
    Payment,
    Collection,
    Part,

    /// <summary>Work that is done outside the house.</summary>
    OutsideFirm,

    /// <summary>A claim that is being looked at.</summary>
    Claim,
}
