using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Money;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Core.Promises;

/// <summary>
/// Where the count of promised days begins: the latest of approval, deposit and last missing information (common practice). A deposit
/// counts where the accepted quote asks for one and the shop keeps its money here; kept elsewhere nobody says when it came. Missing
/// information counts where it lets the work begin: what is asked at a stage up to takedown and case strip with strength stop by the
/// rules of the shop. What a tap passes keeps nobody from working and moves no date.
/// </summary>
/// <param name="At">The latest of what has come already.</param>
/// <param name="Deposit">The deposit has not come.</param>
/// <param name="Missing">Members of the intake that have not come.</param>
public sealed record PromiseStart(Instant At, bool Deposit, ImmutableArray<string> Missing)
{
    /// <summary>All has come: day 0 is the local date of <see cref="At"/>.</summary>
    public bool IsKnown => !Deposit && Missing.IsEmpty;

    public static PromiseStart Of(Job job, Instant approved, ShopRules rules)
    {
        var here = rules.Money.Kept == MoneyKept.Here;
        var came = job.Intake.CameAt.Where(one => LetsTheWorkBegin(one.Key, job, rules)).Select(one => one.Value);
        if (here && Money.Deposit.ReachedAt(job) is { } paid)
        {
            came = came.Append(paid);
        }

        return new PromiseStart(
            came.Aggregate(approved, Instant.Max),
            here && !Money.Deposit.IsHere(job),
            [.. job.Intake.Missing.Select(one => one.Member).Where(member => LetsTheWorkBegin(member, job, rules))]);
    }

    /// <summary>
    /// The approval whose promise has not been given yet: the first one, or one that the customer gave anew for another kind of work.
    /// </summary>
    /// <returns>The moment and the working days; null where the date was given, and where nothing is approved.</returns>
    public static (Instant At, int WorkingDays)? Owed(Job job)
    {
        var quotes = job.Quotes;
        if (quotes.Approval is not { } approval)
        {
            return job.Promise.Given is null && quotes.Agreed is { AnsweredAt: { } answered } agreed ? (answered, agreed.WorkingDays + quotes.SupplementWorkingDays) : null;
        }

        if (approval.Version is null)
        {
            return job.Promise.Given is not null ? null
                : quotes.Agreed is { AnsweredAt: { } further } version ? (further, version.WorkingDays + quotes.SupplementWorkingDays)
                : job.Route is { PromisedWorkingDays: > 0 and var days } ? (approval.At, days + quotes.SupplementWorkingDays) : null;
        }

        return job.Promise.History.Any(one => one.Position > approval.Position && one is { CountsFrom: not null, By: PromiseMover.Rule }) ? null
            : quotes.Versions.FirstOrDefault(one => one.Version == approval.Version) is { } accepted ? (approval.At, accepted.WorkingDays + quotes.SupplementWorkingDays) : null;
    }

    /// <summary>What the customer is told while a promise waits; null where none does.</summary>
    public static Phrase? Words(Job job, ShopRules rules)
    {
        if (Owed(job) is not { } owed || Of(job, owed.At, rules) is not { IsKnown: false } start)
        {
            return null;
        }

        var missing = new Series([.. start.Missing.Select(member => new Term("intakeMember", member))]);
        return start switch
        {
            { Missing.IsEmpty: true } => Phrase.Of("counted from the day the deposit comes"),
            { Deposit: false } => Phrase.Of("counted from the day we know: {0}", missing),
            _ => Phrase.Of("counted from the day the deposit comes and we know: {0}", missing),
        };
    }

    private static bool LetsTheWorkBegin(string member, Job job, ShopRules rules) =>
        IntakeNeeds.All.FirstOrDefault(one => one.Member == member) is { } need
        && need.NeededFor.Where(stage => job.Route?.Has(stage) == true).Take(1).Any(stage => stage is Stage.Diagnosis or Stage.Quote or Stage.Takedown or Stage.CaseStrip)
        && member != IntakeMember.PolishConfirmed
        && GateTable.StrengthOf($"intake/{member}", rules, need.Strength) == Strength.Stop;
}
