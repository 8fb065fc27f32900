using System.Globalization;
using Workshop.Core.Jobs;
using Workshop.Core.Money;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>Gates about money. Amounts are named to the desk and to managers alone.</summary>
internal static class MoneyGates
{
    /// <summary>Settlement is said by the desk: refused while something is owed, where the shop keeps its money here.</summary>
    public static IEnumerable<Objection> Settled(Job job, Asking asking) =>
        asking.Rules.Money.Kept == MoneyKept.Elsewhere || Account.Of(job) is { IsSettled: true } or { AskedMinor: null } ? []
        : [Owed(Account.Of(job), asking, Strength.Stop)];

    /// <summary>What was settled once stands; what is owed either way is asked about once more at the door.</summary>
    public static IEnumerable<Objection> AtTheDoor(Job job, Asking asking)
    {
        var account = Account.Of(job);
        if (asking.Rules.Money.Kept == MoneyKept.Here && account is not { AskedMinor: null } and not { IsSettled: true, RefundMinor: 0 })
        {
            yield return Owed(account, asking, Strength.Ask);
        }
    }

    /// <summary>
    /// Work on movement or case begins once the deposit is here. Kept elsewhere it can only be asked about: whoever begins says that it has come.
    /// Asked when the stage is begun for the first time, and only where an accepted quote asks for a deposit.
    /// </summary>
    public static IEnumerable<Objection> DepositHere(Job job, Asking asking, Stage stage)
    {
        if (stage is Stage.Takedown or Stage.CaseStrip && job.Standings.Of(stage).State == StageState.Open && !Deposit.IsHere(job))
        {
            yield return Named(
                GateTable.Objects(
                    "deposit", asking.Rules, Phrase.Of("The deposit has not come yet"), Phrase.Of("the desk, by writing the payment down; a manager may waive it"),
                    asking.Rules.Money.Kept == MoneyKept.Elsewhere ? Strength.Ask : null, ("stage", Word.Of(stage))),
                asking, ("depositMinor", Deposit.AskedMinor(job)!.Value), Account.Of(job).Currency);
        }
    }

    private static Objection Owed(Account account, Asking asking, Strength strength)
    {
        var back = account.DueMinor == 0 && account.RefundMinor > 0;
        var minor = back ? account.RefundMinor : account.DueMinor;
        var said = Amount.Said(minor, account.Currency);
        var line = (back, SeesAmounts(asking)) switch
        {
            (false, false) => Phrase.Of("Something is still to be paid"),
            (false, true) => Phrase.Of("Still to be paid: {0}", said),
            (true, false) => Phrase.Of("Something is still to be paid back"),
            (true, true) => Phrase.Of("Still to be paid back: {0}", said),
        };
        return Named(
            GateTable.Objects("account-settled", asking.Rules, line, Phrase.Of("a payment, or the account of the customer"), strength),
            asking, (back ? "refundMinor" : "dueMinor", minor), account.Currency);
    }

    private static Objection Named(Objection one, Asking asking, (string Name, long Minor) amount, string? currency) =>
        !SeesAmounts(asking) ? one
        : one with { Names = one.Names.Add(amount.Name, amount.Minor.ToString(CultureInfo.InvariantCulture)).Add("currency", currency ?? "") };

    private static bool SeesAmounts(Asking asking) => asking.Role is "desk" or "manager";
}
