using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.WaterTests;

/// <summary>One water test in short. A pass is a statement about that minute.</summary>
public sealed record WaterTestSummary(EventId Id, Instant At, WaterTestMethod Method, decimal? PressureBar, bool Passed);

public sealed record WaterTestRecord
{
    public ImmutableArray<WaterTestSummary> Tests { get; init; } = [];

    public Heard<WaterTestRecord> Apply(Entry entry) => entry.Event is not WaterTestRecorded test
        ? new(this)
        : new(
            this with { Tests = Tests.Add(new WaterTestSummary(entry.Id, entry.Effective, test.Method, test.PressureBar, test.Passed)) },
            test.Passed ? new Ended(Stage.WaterTest, OnGroundOnly: true) : new Failed(Stage.WaterTest, OnGroundOnly: true));
}
