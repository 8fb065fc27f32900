using Workshop.Core.FinalControls;
using Workshop.Core.Journal;
using Workshop.Core.Money;
using Workshop.Core.Route;

namespace Workshop.Core.People;

/// <summary>What came of asking for the short number that only the person knows.</summary>
public enum Proof
{
    /// <summary>Nobody in the shop has one, or the key is a manager's: it is not asked for.</summary>
    NotNeeded,

    /// <summary>Told and right, with the event or when signing on.</summary>
    Right,

    /// <summary>None was told.</summary>
    Missing,
    Wrong,

    /// <summary>Too many wrong ones were told a short while ago.</summary>
    Locked,
}

/// <summary>For which events a person must prove who they are.</summary>
public static class ProofRules
{
    /// <summary>Wrong proofs within <see cref="CountedMinutes"/> that lock a person's proof. Own choice.</summary>
    public const int WrongAtMost = 5;

    public const int CountedMinutes = 15;

    public const int LockedMinutes = 15;

    /// <summary>
    /// Final control, and money: what was paid, that it is on account, that it is settled. Waivers and legal holds are for keys of managers alone, which stand for the proof.
    /// A refused final control is bad news, and that counts from anybody.
    /// </summary>
    public static bool AskOf(WorkshopEvent one, string role) =>
        role is not ("manager" or "service") && (one is FinalControlPassed or PaymentRecorded or PaymentCorrected or AccountChanged or StageFinished { Stage: Stage.Settlement });
}
