using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Quotes;

namespace Workshop.Core.Money;

/// <summary>What is to be paid before the work begins: only what an accepted quote asks for, and never for a watch that goes back unrepaired.</summary>
public static class Deposit
{
    /// <summary>Minor units; null where none is asked.</summary>
    public static long? AskedMinor(Job job) => !job.Standings.ReturnsUnrepaired && AgreedMinor(job.Quotes) is > 0 and var asked ? asked : null;

    private static long AgreedMinor(QuoteBook quotes) => (quotes.Agreed?.DepositAskedMinor ?? 0) + quotes.Supplements.Sum(one => one.DepositAskedMinor);

    /// <summary>None is asked, or it is here, or the job is on account.</summary>
    public static bool IsHere(Job job) => AskedMinor(job) is not { } asked || job.Money.OnAccount || job.Money.NetMinor >= asked;

    /// <summary>When payments reached it, in the order in which they were made, or the job was put on account; null where none is asked, and before.</summary>
    public static Instant? ReachedAt(Job job)
    {
        if (AskedMinor(job) is not { } asked)
        {
            return null;
        }

        var paid = 0L;
        var reached = job.Money.OnAccountSince;
        foreach (var one in job.Money.Payments.OrderBy(one => one.At))
        {
            paid += one.SignedMinor;
            if (paid >= asked)
            {
                return reached is { } since ? Instant.Min(since, one.At) : one.At;
            }
        }

        return reached;
    }
}
