using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.WaterTests;

/// <summary>What a test says of the watch as it is now.</summary>
public enum WaterValidity
{
    /// <summary>It passed, and the case was not opened since.</summary>
    Valid,

    /// <summary>It passed, and the case was opened since, however shortly.</summary>
    VoidSinceOpened,

    /// <summary>It was the empty case, or one that did not count as closed: it says nothing of the watch as it was closed later.</summary>
    NotAsClosed,

    /// <summary>It did not pass.</summary>
    Leaks,
}

/// <summary>One water test in short. A pass is a statement about that minute.</summary>
/// <param name="ClosedSince">When the case was closed in which it was tested; null where the case did not count as closed.</param>
/// <param name="OpenedAt">When the case was opened after it.</param>
/// <param name="Told">All that was told.</param>
/// <param name="Against">What was against the cautions of the trade, by what was known then.</param>
public sealed record WaterTestSummary(
    EventId Id, Instant At, WaterTestMethod Method, decimal? PressureBar, bool Passed, Instant? ClosedSince, Instant? OpenedAt, WaterTestRecorded Told, ImmutableArray<WaterCaution> Against, string? Person)
{
    public bool OfEmptyCase => Told.EmptyCase == true;

    public WaterValidity Validity =>
        !Passed ? WaterValidity.Leaks
        : OfEmptyCase || ClosedSince is null ? WaterValidity.NotAsClosed
        : OpenedAt is not null ? WaterValidity.VoidSinceOpened
        : WaterValidity.Valid;
}

public sealed record WaterTestRecord
{
    public ImmutableArray<WaterTestSummary> Tests { get; init; } = [];

    /// <summary>The last test that still says something of the watch as it is closed now.</summary>
    public WaterTestSummary? NewestValid => Tests.LastOrDefault(test => test.Validity == WaterValidity.Valid);

    /// <summary>A test without water has passed, of the watch as it is closed now.</summary>
    public bool DryPassed => Tests.Any(test => test.Validity == WaterValidity.Valid && test.Method is WaterTestMethod.Dry or WaterTestMethod.Vacuum);

    /// <param name="at">The case as it was when it was tested.</param>
    public Heard<WaterTestRecord> Apply(Entry entry, CaseState at)
    {
        if (entry.Event is not WaterTestRecorded told)
        {
            return new(this);
        }

        // A watch that was adopted closed has no moment of its closing.
        Instant? closed = at.Closed ? at.Since ?? entry.Effective : null;
        var test = new WaterTestSummary(entry.Id, entry.Effective, told.Method, told.PressureBar, told.Passed, closed, null, told, entry.Judged.Water ?? [], entry.Person);
        var after = this with { Tests = Tests.Add(test) };

        // The case without its movement is a measurement: it neither ends the stage nor fails it.
        return told.EmptyCase == true ? new(after)
            : new(after, told.Passed ? new Ended(Stage.WaterTest, OnGroundOnly: true) : new Failed(Stage.WaterTest, OnGroundOnly: true));
    }

    /// <summary>The case was opened: what was tested before says nothing of what is closed after.</summary>
    public WaterTestRecord HearOpened(Instant at) => Tests.All(test => test.ClosedSince is null || test.OpenedAt is not null)
        ? this
        : this with { Tests = [.. Tests.Select(test => test.ClosedSince is null || test.OpenedAt is not null ? test : test with { OpenedAt = at })] };
}
