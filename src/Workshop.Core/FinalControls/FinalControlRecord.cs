using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.FinalControls;

/// <summary>The last word of the second person.</summary>
public sealed record FinalControlRecord
{
    public Instant? PassedAt { get; init; }

    public string? PassedBy { get; init; }

    public ImmutableArray<FinalCheck> Checks { get; init; } = [];

    public int Refusals { get; init; }

    public Heard<FinalControlRecord> Apply(Entry entry) => entry.Event switch
    {
        FinalControlPassed passed => new(
            this with { PassedAt = entry.Effective, PassedBy = entry.Person, Checks = passed.Checks },
            new Ended(Stage.FinalControl)),
        FinalControlRefused refused => new(this with { Refusals = Refusals + 1 }, new Fell(refused.To), new Fell(Stage.FinalControl)),
        _ => new(this),
    };
}
