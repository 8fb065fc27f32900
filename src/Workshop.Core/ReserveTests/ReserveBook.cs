using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Stops;

namespace Workshop.Core.ReserveTests;

/// <summary>A look at a watch whose reserve is tested.</summary>
public sealed record ReserveLook(EventId Id, Instant At, ReserveTestRead Told);

/// <summary>One test of the reserve, from full wind on.</summary>
public sealed record ReserveTest
{
    public required EventId Start { get; init; }

    public required RunStart Set { get; init; }

    public required ReserveTerms Terms { get; init; }

    public bool ChronographRunning { get; init; }

    public string? Person { get; init; }

    public ImmutableArray<ReserveLook> Looks { get; init; } = [];

    /// <summary>When it was found stopped; null while it runs.</summary>
    public Instant? FoundStoppedAt { get; init; }

    /// <summary>The movement was taken up again before it was over: it says nothing.</summary>
    public Instant? VoidSince { get; init; }

    public bool Runs => FoundStoppedAt is null && VoidSince is null;

    /// <summary>It ran at this moment still.</summary>
    public Instant LastSeenRunning => Looks.LastOrDefault(look => look.Told.Running == true)?.At ?? Set.At;

    /// <summary>When it has run its hours.</summary>
    public Instant HoursOver => Set.At + Duration.FromHours((double)Terms.Hours);

    /// <summary>When to look next: a little before the hours are over, and once more when they are; null once that was seen.</summary>
    public Instant? LookAt =>
        !Runs || LastSeenRunning >= HoursOver ? null
        : LastSeenRunning < HoursOver - Terms.LookBefore ? HoursOver - Terms.LookBefore
        : HoursOver;
}

/// <summary>Every test of the reserve in this job.</summary>
public sealed record ReserveBook
{
    public ImmutableArray<ReserveTest> Tests { get; init; } = [];

    public ReserveTest? Running => Tests.LastOrDefault(test => test.Runs);

    public ReserveTest? OfLook(EventId id) => Tests.LastOrDefault(test => test.Looks.Any(look => look.Id == id));

    public ReserveBook Apply(Entry entry) => entry.Event switch
    {
        ReserveTestStarted started when Running is null && entry.Judged.Reserve is { } terms => this with
        {
            Tests = Tests.Add(new ReserveTest
            {
                Start = entry.Id,
                Set = new RunStart(entry.Effective, started.OffsetSeconds ?? 0, started.ShownDay),
                Terms = terms,
                ChronographRunning = started.ChronographRunning == true,
                Person = entry.Person,
            }),
        },
        ReserveTestRead read when Running is { } running => Change(running, running with
        {
            Looks = running.Looks.Add(new ReserveLook(entry.Id, entry.Effective, read)),
            FoundStoppedAt = read.Stopped == true ? entry.Effective : null,
        }),
        _ => this,
    };

    /// <summary>A movement that is taken up again runs no test; an opened case leaves it alone.</summary>
    public ReserveBook HearFallen(ImmutableArray<Stage> fell, Entry entry) =>
        Running is { } running && (fell.Contains(Stage.Rebuild) || fell.Contains(Stage.DialAndHands)) ? Change(running, running with { VoidSince = entry.Effective }) : this;

    private ReserveBook Change(ReserveTest old, ReserveTest changed) => this with { Tests = Tests.Replace(old, changed) };
}
