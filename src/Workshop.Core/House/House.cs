using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Charts;
using Workshop.Core.Journal;
using Workshop.Core.Orders;

namespace Workshop.Core.House;

/// <summary>What the house knows of itself and belongs to no job, folded from the stream <c>house</c>: back-ups, counts of the safe, restarts of control charts, and what was said of due things.</summary>
public sealed record House
{
    public const string Stream = "house";

    public AnnouncementLog Announcements { get; init; } = new();

    /// <summary>The newest back-up; null where none was ever made.</summary>
    public BackUpMade? LastBackUp { get; init; }

    /// <summary>The newest count of the safe; null where it was never counted.</summary>
    public CountOfSafe? LastCount { get; init; }

    /// <summary>Control charts that a manager let begin anew, as they were told.</summary>
    public ImmutableArray<ChartRestart> ChartRestarts { get; init; } = [];

    public static House Replay(IEnumerable<Entry> entries) => entries.Aggregate(new House(), (house, entry) => house.Apply(entry));

    private House Apply(Entry entry) => !entry.Counts ? this : entry.Event switch
    {
        BackUpMade made => LastBackUp is { } last && last.MadeAt > made.MadeAt ? this : this with { LastBackUp = made },
        SafeCompared compared => LastCount is { } last && last.At > entry.Effective ? this
            : this with { LastCount = new CountOfSafe(entry.Effective, entry.Person, compared.Counted, compared.Missing, compared.Elsewhere) },
        ControlChartRestarted restarted => this with
        {
            ChartRestarts = ChartRestarts.Add(new ChartRestart(entry.Id, entry.Effective, entry.Person, restarted.Bench, restarted.Instrument, restarted.Reason)),
        },
        DueAnnounced => this with { Announcements = Announcements.Apply(entry) },
        _ => this,
    };
}

/// <summary>What came of a count of the safe.</summary>
/// <param name="By">Who counted, where somebody was named.</param>
/// <param name="Missing">Pieces as <c>&lt;job&gt;/&lt;piece&gt;</c>.</param>
public sealed record CountOfSafe(Instant At, string? By, int Counted, ImmutableArray<string> Missing, ImmutableArray<string> Elsewhere);

/// <summary>A device as the agenda sees it.</summary>
/// <param name="Name">The middle part of its source.</param>
/// <param name="Heard">When it was last heard, or paired.</param>
/// <param name="SilentAfter">Open hours after which its silence is worth a look.</param>
public sealed record HeardDevice(string Name, Instant Heard, Duration SilentAfter);

/// <summary>A filling that is in use.</summary>
/// <param name="Runs">Runs in its present jar.</param>
/// <param name="WornSince">Since when it has had the runs at which a warning is due; null while it has not.</param>
public sealed record FilledJar(string Batch, string Jar, string? Machine, LocalDate FilledOn, int Runs = 0, Instant? WornSince = null);

/// <summary>What stands in tables of its own and falls due without a job.</summary>
/// <param name="Began">When the house began to keep its journal.</param>
public sealed record HouseFacts(Instant Began, IReadOnlyList<HeardDevice> Devices, IReadOnlyList<FilledJar> Fillings)
{
    /// <summary>The moment they were read; what is to be done anew each day goes by it.</summary>
    public Instant? Now { get; init; }

    /// <summary>Watches that were ordered and have not come.</summary>
    public IReadOnlyList<WaitedFor> Expected { get; init; } = [];

    /// <summary>Messages of storefronts that nobody has looked at yet.</summary>
    public IReadOnlyList<FlaggedMessage> Flagged { get; init; } = [];

    /// <summary>Endpoints that the service itself has stopped sending to.</summary>
    public IReadOnlyList<StoppedEndpoint> Stopped { get; init; } = [];

    /// <summary>Letters that could not be sent, as long as what they say is still to be said.</summary>
    public IReadOnlyList<UnsentLetter> Unsent { get; init; } = [];
}
