using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Disputes;

/// <summary>One dispute and what became of it.</summary>
/// <param name="Outcome">Null while it stands.</param>
public sealed record Dispute(int Number, int? Claim, Instant OpenedAt, DisputeOutcome? Outcome = null, LocalDate? ToldOn = null)
{
    public bool Stands => Outcome is null;
}

public sealed record DisputeBook
{
    public ImmutableArray<Dispute> All { get; init; } = [];

    public bool Stand => All.Any(one => one.Stands);

    public Dispute? Find(int number) => All.FirstOrDefault(one => one.Number == number);

    public DisputeBook Apply(Entry entry) => entry.Event switch
    {
        DisputeOpened opened => this with { All = All.Add(new(opened.Dispute, opened.Claim, entry.Effective)) },
        DisputeClosed closed => this with { All = [.. All.Select(one => one.Number == closed.Dispute ? one with { Outcome = closed.Outcome, ToldOn = closed.ToldOn } : one)] },
        _ => this,
    };
}
