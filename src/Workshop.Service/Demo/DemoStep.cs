using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Features.BenchEvents;

namespace Workshop.Service.Demo;

/// <summary>One thing that happens in the demo's past, at the moment the service hears of it.</summary>
internal abstract record DemoStep(Instant At, DemoLife Life);

/// <summary>Somebody says something at the door of the benches.</summary>
/// <param name="From">The place that speaks.</param>
/// <param name="What">The event; the job's label is known only when the watch was taken in.</param>
internal sealed record SaidStep(Instant At, DemoLife Life, DemoPlace From, Func<Label, WorkshopEvent> What) : DemoStep(At, Life)
{
    public string? Person { get; init; }

    /// <summary>When it happened, where it is told later.</summary>
    public Instant? Happened { get; init; }

    public ImmutableArray<string> Despite { get; init; } = [];

    public EventOutcome Expected { get; init; } = EventOutcome.Accepted;

    /// <summary>The place's own running number.</summary>
    public long Sequence { get; init; }
}

/// <summary>The desk does something by one of its own commands.</summary>
internal sealed record DeskStep(Instant At, DemoLife Life, Action<DemoDesk, DemoLife> Do) : DemoStep(At, Life);
