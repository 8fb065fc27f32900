using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.WearChecks;

namespace Workshop.Core.Stops;

/// <summary>What was found behind a stop, and in which calibre.</summary>
/// <param name="Entry">The entry that says so.</param>
/// <param name="Calibre">The shop's name of the calibre, as it was known then; null where nobody had written it down.</param>
public sealed record FoundCause(EventId Entry, StopCause Cause, string? Remark, Instant At, string? Person, string? Calibre);

/// <summary>A check that is going on, as far as a stop would need it.</summary>
public sealed record StopStart(EventId Id, WearCheckKind Kind, RunStart Set, WearPlace? Place, bool ChronographRunning, Instant LastSeenRunning);

/// <summary>A watch was found stopped.</summary>
/// <param name="Id">The reading that says so.</param>
/// <param name="Hands">Null where nobody read the hands.</param>
public sealed record Stop(EventId Id, StopStart Start, Instant FoundAt, ShownHands? Hands, int? ShownDay)
{
    public FoundCause? Found { get; init; }

    public RunTime Ran(DateTimeZone zone) => RunTime.Of(Start.Set, FoundAt, Start.LastSeenRunning, Hands, ShownDay, zone);
}

/// <summary>What a job says of causes: one row for each stop whose cause was found.</summary>
public sealed record CauseRow(EventId Stop, string Calibre, StopCause Cause, Instant At);

/// <summary>Every stop of a watch in this job, and what was found behind it.</summary>
public sealed record StopBook
{
    /// <summary>The calibre of rows about a movement that nobody has written down.</summary>
    public const string NoCalibre = "";

    public ImmutableArray<StopStart> Going { get; init; } = [];

    public ImmutableArray<Stop> Stops { get; init; } = [];

    /// <summary>Rows of the table of causes; a value that is the same as before is the same object.</summary>
    public ImmutableArray<CauseRow> Causes { get; init; } = [];

    public Stop? Find(EventId reading) => Stops.LastOrDefault(stop => stop.Id == reading);

    /// <summary>A cause was written for a stop that was found at this moment or later; that none was found is no cause.</summary>
    public bool ExplainedSince(Instant found) => Stops.Any(stop => stop.FoundAt >= found && stop.Found is { Cause: not StopCause.Unknown });

    /// <summary>What was found behind the last stop is that it comes and goes.</summary>
    public bool ComesAndGoes() => Stops is [.., { Found.Cause: StopCause.Intermittent }];

    public StopBook Apply(Entry entry) => entry.Event switch
    {
        WearCheckStarted started => this with
        {
            Going = Without(started.Kind).Add(new StopStart(
                entry.Id, started.Kind, new RunStart(entry.Effective, started.OffsetSeconds ?? 0, started.ShownDay), started.Place, started.ChronographRunning == true, entry.Effective)),
        },
        WearCheckResumed { Place: { } place } resumed => Change(resumed.Kind, going => going with { Place = place, LastSeenRunning = entry.Effective }),
        WearCheckPaused or WearCheckResumed => this,
        WearCheckConfirmed { StartedAt: { } told } confirmed => Change(confirmed.Kind, going => told < entry.Effective ? going with { Set = going.Set with { At = told } } : going),
        WearCheckRead { Stopped: true } read => Find(read, entry),
        WearCheckRead { Kind: WearCheckKind.Static, Interim: not true } read => this with { Going = Without(read.Kind) },
        WearCheckRead read => Change(read.Kind, going => going with { LastSeenRunning = entry.Effective, Place = read.Place ?? going.Place }),
        StopExplained explained => Explain(explained, entry),
        _ => this,
    };

    /// <summary>A worn check that came to its verdict is going on no more.</summary>
    public StopBook HearWorn(WearCheckRecord worn)
    {
        var over = Going.Where(one => one.Kind == WearCheckKind.Worn && !worn.Checks.Any(check => check.Runs && check.Start == one.Id)).ToImmutableArray();
        return over.IsEmpty ? this : this with { Going = Going.RemoveRange(over) };
    }

    /// <summary>A check that is void by what fell is going on no more.</summary>
    public StopBook HearFallen(ImmutableArray<Stage> fell)
    {
        var gone = Going.Where(one => fell.Contains(one.Kind == WearCheckKind.Worn ? Stage.WearCheck : Stage.Rebuild)).ToImmutableArray();
        return gone.IsEmpty ? this : this with { Going = Going.RemoveRange(gone) };
    }

    private StopBook Find(WearCheckRead read, Entry entry) =>
        Going.FirstOrDefault(one => one.Kind == read.Kind) is not { } start ? this
        : this with
        {
            Going = Without(read.Kind),
            Stops = Stops.Add(new Stop(entry.Id, start with { Place = read.Place ?? start.Place }, entry.Effective, RunTime.ReadHands(read.ShownTime), read.ShownDay)),
        };

    private StopBook Explain(StopExplained explained, Entry entry)
    {
        if (Find(explained.Of) is not { } stop)
        {
            return this;
        }

        var found = new FoundCause(entry.Id, explained.Cause, explained.Remark, entry.Effective, entry.Person, entry.Judged.Calibre);
        var stops = Stops.Replace(stop, stop with { Found = found });
        return this with
        {
            Stops = stops,
            Causes = [.. stops.Where(one => one.Found is not null).Select(one => new CauseRow(one.Id, one.Found!.Calibre ?? NoCalibre, one.Found.Cause, one.Found.At))],
        };
    }

    private ImmutableArray<StopStart> Without(WearCheckKind kind) => Going.RemoveAll(one => one.Kind == kind);

    private StopBook Change(WearCheckKind kind, Func<StopStart, StopStart> to) =>
        Going.FirstOrDefault(one => one.Kind == kind) is { } going ? this with { Going = Going.Replace(going, to(going)) } : this;
}
