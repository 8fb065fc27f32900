using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Promises;

/// <summary>One date as it was said.</summary>
/// <param name="Target">The shop's own target, never told.</param>
/// <param name="StoppedWorkingDays">Open days the clock stood still, as of this date.</param>
/// <param name="Position">The entry's position in the journal: the order in which dates were said.</param>
/// <param name="CountsFrom">For a date that stops move from here on: the day after which they count; null for one that stops have made.</param>
/// <param name="By">A person or the service.</param>
/// <param name="Person">Who of the house, where the entry names one.</param>
/// <param name="Note">What they said to it.</param>
public sealed record SaidDate(
    LocalDate On, LocalDate Target, int StoppedWorkingDays, Instant SaidAt, PromiseReason? Reason, long Position, LocalDate? CountsFrom = null,
    PromiseMover By = PromiseMover.Rule, string? Person = null, string? Note = null);

/// <summary>
/// What the customer was promised, every date in turn. A stop reported late has its place before dates said long ago; what was said last
/// counts all the same, so dates go by the order in which they were said.
/// </summary>
public sealed record PromiseBook
{
    public PromiseGiven? Given { get; init; }

    /// <summary>Every date, the one said last at the end.</summary>
    public ImmutableArray<SaidDate> History { get; init; } = [];

    public LocalDate? On => Last?.On;

    public LocalDate? Target => Last?.Target;

    /// <summary>Open days the clock stood still, as of the last date given.</summary>
    public int StoppedWorkingDays => Last?.StoppedWorkingDays ?? 0;

    /// <summary>The date that stops move; null before the first promise.</summary>
    public PromiseBase? Base => History.LastOrDefault(one => one.CountsFrom is not null) is { CountsFrom: { } from } said ? new PromiseBase(said.On, from, said.StoppedWorkingDays) : null;

    /// <summary>How often the shop moved the date of its own accord; waiting for the customer is not its own.</summary>
    public int MovesByTheShop => History.Count(one => one is { By: PromiseMover.Person, Reason: not PromiseReason.WaitedForYou });

    private SaidDate? Last => History.IsEmpty ? null : History[^1];

    public PromiseBook Apply(Entry entry) => entry.Event switch
    {
        PromiseGiven given => (this with { Given = given }).Say(new(given.On, given.Target, 0, entry.Received, null, entry.Position, given.ApprovedOn)),
        PromiseMoved { ApprovedOn: { } dayZero, WorkingDays: { } days } anew => (this with
        {
            Given = new PromiseGiven { On = anew.To, Target = anew.Target, ApprovedOn = dayZero, WorkingDays = days },
        }).Say(new(anew.To, anew.Target, anew.StoppedWorkingDays, entry.Received, anew.Reason, entry.Position, dayZero)),
        PromiseMoved moved => Say(new(
            moved.To, moved.Target, moved.StoppedWorkingDays, entry.Received, moved.Reason, entry.Position, moved.CountsFrom, moved.By ?? PromiseMover.Rule, entry.Judged.Person, moved.Note)),
        _ => this,
    };

    private PromiseBook Say(SaidDate said) => this with { History = History.Insert(History.Count(one => one.Position < said.Position), said) };
}
