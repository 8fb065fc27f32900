using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Gates;
using Workshop.Core.Groups;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Parts;
using Workshop.Core.People;
using Workshop.Core.Promises;
using Workshop.Core.Shop;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;

namespace Workshop.Core.Jobs;

/// <summary>An event that asks to be accepted into a job.</summary>
public sealed record Incoming
{
    public required EventId Id { get; init; }

    public required Label Job { get; init; }

    /// <summary>The label under which it is told: any of the job's; null for commands.</summary>
    public Label? Under { get; init; }

    /// <summary>What it follows from, where it does: a scan.</summary>
    public EventId? CausedBy { get; init; }

    public required WorkshopEvent Event { get; init; }

    public Manner Manner { get; init; } = Manner.Plain;

    /// <summary>Effective time, already limited to receipt.</summary>
    public required Instant Effective { get; init; }

    public required Instant Received { get; init; }

    /// <summary>The sender's running number, 0 for commands.</summary>
    public long OrderSequence { get; init; }

    /// <summary>What came of the proof that was told with it, of the person who says it; <see cref="Proof.Missing"/> where none was.</summary>
    public Proof Proof { get; init; } = Proof.Missing;

    /// <summary>The sender's running number as it counts it; null where it counts none.</summary>
    public long? Sequence => OrderSequence == 0 ? null : OrderSequence;

    /// <summary>False when it reports what was done a while ago, or says <c>already</c>.</summary>
    public required bool Live { get; init; }

    /// <summary>Flags set at the door (clock-suspect, unknown-member).</summary>
    public ImmutableArray<string> Flags { get; init; } = [];
}

/// <summary>What a decision may look at besides the job: everything is read in the turn, before deciding.</summary>
public sealed record Facts
{
    public required ShopRules Rules { get; init; }

    /// <summary>The rules as they were at an earlier version: a report that looks again is judged by those it was first judged by.</summary>
    public Func<long, ShopRules>? RulesAsOf { get; init; }

    /// <summary>The person behind the badge, or null where nobody (known) was named.</summary>
    public ShopPerson? Person { get; init; }

    /// <summary>The role of the key: bench, desk, manager, storefront, wall, service.</summary>
    public required string Role { get; init; }

    public string? Bench { get; init; }

    /// <summary>What is known of a cage and its run, for an event about one.</summary>
    public CageFacts? Cage { get; init; }

    /// <summary>When a watch that is taken in now can be ready, where a day is fixed.</summary>
    public ReachableDate? Reachable { get; init; }

    /// <summary>What a takedown of the watch goes by; read for an event of a takedown alone.</summary>
    public TakedownTerms? Takedown { get; init; }

    /// <summary>What a rate set of the watch is judged by; read for a rate set alone.</summary>
    public RateTerms? Rate { get; init; }

    /// <summary>What is written down of the watch; read for an event that rests on it.</summary>
    public WatchKnown? Watch { get; init; }

    /// <summary>What came of asking who the person is, for what needs it.</summary>
    public Proof Proof { get; init; }

    /// <summary>The site's next free position; entries of the decision take it and those that follow.</summary>
    public required long NextPosition { get; init; }

    /// <summary>The label of another job in the house with this case serial, movement number or label, for the comparison at casing.</summary>
    public Func<string, Label?> OtherJobWithNumber { get; init; } = _ => null;

    /// <summary>How many of a part there are and for whom, before this event; null for one the shop has not written down.</summary>
    public Func<string, PartStock?> StockOf { get; init; } = _ => null;

    /// <summary>The job whose running check names a place of the winder; null where it is free.</summary>
    public Func<string, Label?> WornAtWinderPlace { get; init; } = _ => null;

    /// <summary>Another job as it stands.</summary>
    public Func<Label, Job?> OtherJob { get; init; } = _ => null;

    /// <summary>Other watches that were open at a bench or in one of these runs, for a count that differs.</summary>
    public Func<Label, string?, ImmutableArray<string>, ImmutableArray<MixUpCandidate>> NearBy { get; init; } = (_, _, _) => [];

    /// <summary>What a label names in the house and beyond it: null for one nobody knows, empty for one given out blank.</summary>
    public Func<Label, string?> NamesOfLabel { get; init; } = _ => null;

    /// <summary>The rules of a version; those of today where nobody keeps the others.</summary>
    internal ShopRules RulesOf(long version) => version == Rules.Version || RulesAsOf is null ? Rules : RulesAsOf(version);

    /// <summary>The next stream version of another job, for an entry that is written into both.</summary>
    public Func<Label, long> NextStreamVersion { get; init; } = _ => 1;
}

/// <summary>A job as it stands and, when a late event asks for them, its entries in order.</summary>
public sealed class JobHistory(Job job, Func<ImmutableArray<Entry>> readEntries)
{
    private ImmutableArray<Entry>? entries;

    public Job Job { get; } = job;

    /// <summary>All entries, in the order of their places.</summary>
    public ImmutableArray<Entry> Entries => entries ??= readEntries();
}

/// <summary>How an event was taken.</summary>
public enum Outcome
{
    Accepted,
    Noted,
    Refused,
}

/// <summary>What was decided: the outcome, the entries to append (also when refused: a mix-up holds both jobs), and the job afterwards.</summary>
public sealed record Decision
{
    public required Outcome Outcome { get; init; }

    /// <summary>The entries in order of position; the event's own first when it was accepted or noted.</summary>
    public ImmutableArray<StreamEntry> Entries { get; init; } = [];

    /// <summary>The event's own job with the entries of this decision folded in.</summary>
    public required Job Job { get; init; }

    public ImmutableArray<string> Flags { get; init; } = [];

    /// <summary>What is wrong with what the event says of this very job: an entry it does not have. Pointers are into <c>data</c>.</summary>
    public ImmutableArray<Fault> Faults { get; init; } = [];

    /// <summary>For an accepted event: gates it went through although they did not pass, and how.</summary>
    public ImmutableArray<GateWord> WentThrough { get; init; } = [];

    /// <summary>What gates had to say, each once; empty for an event that met none that does not pass.</summary>
    public IEnumerable<GateWord> GateWords => Outcome switch
    {
        Outcome.Accepted => WentThrough,
        Outcome.Noted => Against.Select(one => new GateWord(one.Gate, GateSaid.Noted)).Distinct(),
        Outcome.Refused => Against.Select(one => new GateWord(one.Gate, one.Strength == Strength.Ask ? GateSaid.Asked : GateSaid.Refused)).Distinct(),
    };

    /// <summary>Gates that did not pass, the strongest first; empty when accepted without a word.</summary>
    public ImmutableArray<Objection> Against { get; init; } = [];
}
