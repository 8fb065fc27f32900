using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Promises;

/// <summary>One date as it was said.</summary>
public sealed record SaidDate(LocalDate On, Instant SaidAt, PromiseReason? Reason);

/// <summary>What the customer was promised, every date in turn; the target is the shop's own and never told.</summary>
public sealed record PromiseBook
{
    public PromiseGiven? Given { get; init; }

    public LocalDate? On { get; init; }

    public LocalDate? Target { get; init; }

    /// <summary>Open days the clock stood still, as of the last date given.</summary>
    public int StoppedWorkingDays { get; init; }

    public ImmutableArray<SaidDate> History { get; init; } = [];

    public PromiseBook Apply(Entry entry) => entry.Event switch
    {
        PromiseGiven given => new PromiseBook
        {
            Given = given,
            On = given.On,
            Target = given.Target,
            History = History.Add(new(given.On, entry.Effective, null)),
        },
        PromiseMoved moved => this with
        {
            On = moved.To,
            Target = moved.Target,
            StoppedWorkingDays = moved.StoppedWorkingDays,
            History = History.Add(new(moved.To, entry.Effective, moved.Reason)),
        },
        _ => this,
    };
}
