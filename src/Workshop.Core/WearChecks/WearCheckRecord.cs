using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;

namespace Workshop.Core.WearChecks;

/// <summary>What a check after wear came to.</summary>
public enum WearVerdict
{
    Pass,
    Outside,

    /// <summary>Outside the window about its middle at twice its width: a fault, not a matter of regulation.</summary>
    OutsideFar,

    /// <summary>The rate is nearer to a limit than its uncertainty; more wear settles it.</summary>
    Inconclusive,
    Stopped,
    Interim,
    Void,

    /// <summary>There is a rate, but nobody has confirmed when the check began.</summary>
    Unconfirmed,

    /// <summary>A static check that was read after its window: neither pass nor fail.</summary>
    InvalidWindow,
}

/// <summary>What is to be known about a reading besides its rate.</summary>
public enum WearNotice
{
    /// <summary>As many midnights as the shop's calendar has were not counted.</summary>
    MidnightsDiffer,
    DateDidNotJump,
    HandsNotAligned,
    Mist,
    Noise,

    /// <summary>The rate is unlike what the last set at the bench foretells: something happened in casing.</summary>
    UnlikePrediction,

    /// <summary>The reference's own clock jumped since the start.</summary>
    ClockStepped,
    FewMidnights,
    FewResets,
    ResetsWrong,
}

/// <summary>A stretch in which the watch was off wrist and winder; it runs on but does not wear.</summary>
public sealed record WearPause(Instant From, Instant? Until, string? Reason);

/// <summary>One reading, computed from the entries by the definitions of the rate: seconds gained per day of true time.</summary>
/// <param name="Elapsed">Read minus started, pauses included.</param>
/// <param name="Wear">Elapsed minus pauses.</param>
/// <param name="RatePerDaySeconds">Unrounded; null for a stopped watch.</param>
/// <param name="PlusMinusSeconds">Expanded uncertainty (k = 2) of the rate, unrounded.</param>
/// <param name="SettledAfter">Elapsed time after which an inconclusive reading would be settled, if the rate stays.</param>
public sealed record WearReading(
    EventId Id, Instant At, WearVerdict Verdict, Duration Elapsed, Duration Wear, decimal? RatePerDaySeconds, decimal? PlusMinusSeconds, bool MeanOfDays, Duration? SettledAfter)
{
    /// <summary>Watch minus reference, seconds; null for a stopped watch.</summary>
    public decimal? OffsetSeconds { get; init; }

    /// <summary>Expanded uncertainty (k = 2) of the offset, seconds.</summary>
    public decimal? UncertaintySeconds { get; init; }

    /// <summary>The line through the start and all readings since, where there are three or more; the rate is then its slope.</summary>
    public WearFit? Fit { get; init; }

    /// <summary>Midnights between start and reading in the shop's zone.</summary>
    public int? Midnights { get; init; }

    /// <summary>Ends of a month among them.</summary>
    public int? MonthEnds { get; init; }

    /// <summary>The rate less the predicted one, seconds a day.</summary>
    public decimal? UnlikePredictionSeconds { get; init; }

    public ImmutableArray<WearNotice> Notices { get; init; } = [];
}

/// <summary>One worn check from its start on.</summary>
public sealed record WearCheck
{
    public required EventId Start { get; init; }

    public required Instant StartedAt { get; init; }

    public required decimal OffsetSeconds { get; init; }

    public required WearTerms Terms { get; init; }

    /// <summary>The device's clock could not be right at the start: the verdict waits until a person confirms when it began.</summary>
    public bool Unconfirmed { get; init; }

    /// <summary>Gates the start went through although they did not pass; they hold for the reading too.</summary>
    public ImmutableArray<string> Passed { get; init; } = [];

    public ImmutableArray<WearPause> Pauses { get; init; } = [];

    public ImmutableArray<WearReading> Readings { get; init; } = [];

    /// <summary>Who started it.</summary>
    public string? StartedBy { get; init; }

    /// <summary>The place on a winder where it is worn.</summary>
    public string? WinderPlace { get; init; }

    /// <summary>When the service's own clock jumped since the start, as far as nobody has confirmed the start since.</summary>
    public ImmutableArray<Instant> ClockSteps { get; init; } = [];

    /// <summary>What was read last and by which entry; a confirmed start judges it anew.</summary>
    public (WearCheckRead Read, Entry Entry)? LastRead { get; init; }

    /// <summary>Null while it runs.</summary>
    public WearVerdict? Verdict { get; init; }

    public Instant? EndedAt { get; init; }

    public bool Runs => Verdict is null;

    public Instant? PausedSince => Pauses is [.., { Until: null } open] ? open.From : null;

    /// <summary>The moment when the wear owed is reached, in absolute time; none while it is paused.</summary>
    public Instant? Due => PausedSince is null ? StartedAt + Terms.Owed + PausedUntil(Instant.MaxValue) : null;

    /// <summary>Wear at a moment: elapsed time without the pauses.</summary>
    public Duration WearAt(Instant at) => at - StartedAt - PausedUntil(at);

    /// <summary>The start and every reading since that has an offset, in the order of their times.</summary>
    public IEnumerable<WearPoint> Points() => Readings
        .Where(reading => reading.OffsetSeconds is not null && reading.At > StartedAt)
        .Select(reading => new WearPoint(reading.At - StartedAt, reading.OffsetSeconds!.Value, reading.UncertaintySeconds ?? Terms.ByEyeSeconds))
        .Prepend(new WearPoint(Duration.Zero, OffsetSeconds, Terms.StartUncertaintySeconds));

    private Duration PausedUntil(Instant at) =>
        Pauses.Aggregate(Duration.Zero, (sum, pause) => sum + (Earlier(pause.Until ?? at, at) is var end && end > pause.From ? end - pause.From : Duration.Zero));

    private static Instant Earlier(Instant one, Instant other) => one < other ? one : other;
}

/// <summary>All worn checks of a job, the fails since the movement was last rebuilt, and the fails in all.</summary>
public sealed record WearCheckRecord
{
    public ImmutableArray<WearCheck> Checks { get; init; } = [];

    /// <summary>Checks lying still: measurements, which neither end nor open a stage.</summary>
    public ImmutableArray<StaticCheck> Statics { get; init; } = [];

    /// <summary>Fails since rebuild was last void; once it has reached the manager's number only a manager's sending back resets it.</summary>
    public int CountedFails { get; init; }

    public int TotalFails { get; init; }

    /// <summary>A stop since the last pass: the next check owes more, whatever was done to the watch in between.</summary>
    public bool StoppedSince { get; init; }

    /// <summary>A fail since the last pass: the next check owes a full new day.</summary>
    public bool FailedSince { get; init; }

    /// <summary>The last fail was a stop or far outside, and the movement was not rebuilt since: the index is not the cure.</summary>
    public bool FaultSuspected { get; init; }

    public WearCheck? Running => Checks.LastOrDefault(check => check.Runs);

    public StaticCheck? RunningStatic => Statics.LastOrDefault(check => check.Runs);

    /// <summary>The last check that passed, failed or stopped.</summary>
    public WearCheck? LastJudged => Checks.LastOrDefault(check => check.Verdict is WearVerdict.Pass or WearVerdict.Outside or WearVerdict.OutsideFar or WearVerdict.Stopped);

    /// <summary>What one event read; null where it read nothing.</summary>
    public WearReading? ReadingOf(EventId id) => Checks.SelectMany(check => check.Readings).LastOrDefault(reading => reading.Id == id);

    /// <summary>Who started the checks that failed and still count, each once; nobody where one was started by nobody.</summary>
    public ImmutableArray<string> FailedStarters()
    {
        var failed = Checks.Where(check => check.Verdict is WearVerdict.Outside or WearVerdict.OutsideFar or WearVerdict.Stopped).TakeLast(CountedFails).ToList();
        return failed.Any(check => check.StartedBy is null) ? [] : [.. failed.Select(check => check.StartedBy!).Distinct()];
    }

    public StaticReading? StaticReadingOf(EventId id) => Statics.SelectMany(check => check.Readings).LastOrDefault(reading => reading.Id == id);

    /// <summary>What a check that starts now owes, by the route's figures and what went before.</summary>
    /// <param name="rules">The route's figures.</param>
    /// <param name="window">The window of the route.</param>
    /// <param name="startUncertainty">Expanded uncertainty of the reading at the start, seconds.</param>
    /// <param name="asked">Wear asked for by the bench; counts where it is more.</param>
    /// <param name="intermittent">Its last stop comes and goes.</param>
    public WearTerms TermsFor(WearRules rules, RateWindow window, decimal startUncertainty, Duration? asked, bool intermittent)
    {
        var (owed, forAPass) =
            StoppedSince ? (rules.AfterAStop(intermittent), rules.AfterAStop(intermittent))
            : FailedSince ? (rules.OwedAfterAFail, rules.OwedAfterAFail)
            : (rules.Owed, rules.ForAPass);
        if (asked is { } more && more > owed)
        {
            // The allowance stays what it was: a longer check may be read as much before its end as a usual one.
            forAPass += more - owed;
            owed = more;
        }

        return new WearTerms
        {
            Window = window,
            Owed = owed,
            ForAPass = forAPass,
            FlaggedBeyond = rules.FlaggedBeyond,
            StartUncertaintySeconds = startUncertainty,
            ByEyeSeconds = rules.ReadingResolutionSeconds,
            FailsBeforeTheManager = rules.FailsBeforeTheManager,
        };
    }

    /// <param name="rates">The sets measured so far, which a static check is read by.</param>
    /// <param name="cased">Whether the case is closed.</param>
    public Heard<WearCheckRecord> Apply(Entry entry, TimekeepingRecord rates, bool cased) => entry.Event switch
    {
        WearCheckStarted { Kind: WearCheckKind.Static } when Running is null && RunningStatic is null => new(this with
        {
            Statics = Statics.Add(new StaticCheck
            {
                Start = entry.Id,
                StartedAt = entry.Effective,
                Terms = entry.Judged.Static ?? new StaticTerms(),
                Cased = cased,
                StartedBy = entry.Person,
            }),
        }),
        WearCheckPaused { Kind: WearCheckKind.Static } when RunningStatic is { } still => new(End(still, WearVerdict.Void, entry)),
        WearCheckRead { Kind: WearCheckKind.Static } read when RunningStatic is { } still => new(Read(still, still.Read(read, entry.Id, entry.Effective, rates), entry)),
        WearCheckEvent { Kind: WearCheckKind.Static } => new(this),
        WearCheckStarted started when Running is null && RunningStatic is null && entry.Judged.Wear is { } terms => new(
            this with
            {
                Checks = Checks.Add(new WearCheck
                {
                    Start = entry.Id,
                    StartedAt = entry.Effective,
                    OffsetSeconds = started.OffsetSeconds ?? 0,
                    Terms = terms,
                    Unconfirmed = entry.Has(EntryFlag.ClockSuspect),
                    Passed = entry.Judged.Passing,
                    StartedBy = entry.Person,
                    WinderPlace = started.WinderPlace,
                }),
            },
            new Began(Stage.WearCheck)),
        WearCheckPaused paused when Running is { PausedSince: null } running =>
            new(Change(running, running with { Pauses = running.Pauses.Add(new WearPause(entry.Effective, null, paused.Reason)) })),
        WearCheckResumed when Running is { PausedSince: not null } running => new(Change(running, EndPause(running, entry.Effective))),
        WearCheckConfirmed confirmed when Running is { } running && (running.Unconfirmed || !running.ClockSteps.IsEmpty) => Confirm(running, confirmed, entry),
        WearCheckRead read when Running is { } running => Read(running, read, entry),
        ClockStepped when Running is { } running => new(Change(running, running with { ClockSteps = running.ClockSteps.Add(entry.Effective) })),
        RateSetRecorded set when RunningStatic is { } still && still.ShowsWinding(set, entry.Effective) => new(End(still, WearVerdict.Void, entry)),
        _ => new(this),
    };

    /// <summary>The movement was touched or its case opened: what lies still and is measured is another watch from here.</summary>
    public WearCheckRecord HearTouched(bool opened, Entry entry)
    {
        var touched = entry.Event is IndexTouched
            || entry.Event is StageStarted { Stage: Stage.Takedown or Stage.Rebuild } or StageFinished { Stage: Stage.Takedown or Stage.Rebuild };
        return RunningStatic is { } still && (touched || (opened && still.Cased)) ? End(still, WearVerdict.Void, entry) : this;
    }

    /// <summary>What a reading would come to that is told now; null where none is running.</summary>
    public WearVerdict? WouldBe(WearCheckRead read, Instant at) => Running is { } running ? WearJudge.Of(EndPause(running, at), read, default, at).Verdict : null;

    /// <summary>Stages fell: a running check is void, neither pass nor fail; a rebuilt movement begins a new count.</summary>
    public WearCheckRecord HearFallen(ImmutableArray<Stage> fell, Entry entry)
    {
        var after = this;
        if (fell.Contains(Stage.WearCheck) && Running is { } running)
        {
            after = Change(running, running with { Verdict = WearVerdict.Void, EndedAt = entry.Effective });
        }

        if (fell.Contains(Stage.Rebuild))
        {
            var limit = Checks.IsEmpty ? int.MaxValue : Checks[^1].Terms.FailsBeforeTheManager;
            var reset = after.CountedFails < limit || (entry.Event is StageSentBack && entry.Judged.Role == "manager");
            after = after with { CountedFails = reset ? 0 : after.CountedFails, FaultSuspected = false };
        }

        if (fell.Contains(Stage.Rebuild) && after.RunningStatic is { } still)
        {
            after = after.End(still, WearVerdict.Void, entry);
        }

        return after;
    }

    private Heard<WearCheckRecord> Read(WearCheck running, WearCheckRead read, Entry entry)
    {
        var check = EndPause(running, entry.Effective);
        var reading = WearJudge.Of(check, read, entry.Id, entry.Effective);
        return End(running, check with { Readings = check.Readings.Add(reading), LastRead = (read, entry) }, reading, entry);
    }

    // A person says when it truly began, by a clock that is right. What was read last is judged by it.
    private Heard<WearCheckRecord> Confirm(WearCheck running, WearCheckConfirmed confirmed, Entry entry)
    {
        var check = running with { Unconfirmed = false, ClockSteps = [], StartedAt = confirmed.StartedAt is { } told && told < entry.Effective ? told : running.StartedAt };
        if (running.LastRead is not { } last || running.Readings is not [.., var waiting] || !(waiting.Verdict == WearVerdict.Unconfirmed || waiting.Notices.Contains(WearNotice.ClockStepped)))
        {
            return new(Change(running, check));
        }

        var reading = WearJudge.Of(check with { Readings = check.Readings.RemoveAt(check.Readings.Length - 1) }, last.Read, last.Entry.Id, last.Entry.Effective);
        return End(running, check with { Readings = check.Readings.SetItem(check.Readings.Length - 1, reading) }, reading, entry);
    }

    private Heard<WearCheckRecord> End(WearCheck running, WearCheck check, WearReading reading, Entry entry)
    {
        if (reading.Verdict is WearVerdict.Interim or WearVerdict.Inconclusive or WearVerdict.Unconfirmed)
        {
            return new(Change(running, check));
        }

        var ended = Change(running, check with { Verdict = reading.Verdict, EndedAt = entry.Effective });
        return reading.Verdict == WearVerdict.Pass
            ? new(ended with { StoppedSince = false, FailedSince = false, FaultSuspected = false }, new Ended(Stage.WearCheck) { Passed = check.Passed })
            : new(
                ended with
                {
                    CountedFails = CountedFails + 1,
                    TotalFails = TotalFails + 1,
                    FailedSince = true,
                    StoppedSince = StoppedSince || reading.Verdict == WearVerdict.Stopped,
                    FaultSuspected = reading.Verdict is WearVerdict.Stopped or WearVerdict.OutsideFar,
                },
                new Failed(Stage.WearCheck));
    }

    private static WearCheck EndPause(WearCheck check, Instant at) =>
        check.PausedSince is null ? check : check with { Pauses = check.Pauses.SetItem(check.Pauses.Length - 1, check.Pauses[^1] with { Until = at }) };

    // A stop is one, however the watch lay: the next worn check owes more.
    private WearCheckRecord Read(StaticCheck still, StaticReading reading, Entry entry)
    {
        var check = still with { Readings = still.Readings.Add(reading) };
        var ended = reading.Verdict != WearVerdict.Interim;
        var after = this with { Statics = Statics.Replace(still, ended ? check with { Verdict = reading.Verdict, EndedAt = entry.Effective } : check) };
        return reading.Verdict == WearVerdict.Stopped ? after with { StoppedSince = true } : after;
    }

    private WearCheckRecord End(StaticCheck still, WearVerdict verdict, Entry entry) =>
        this with { Statics = Statics.Replace(still, still with { Verdict = verdict, EndedAt = entry.Effective }) };

    private WearCheckRecord Change(WearCheck old, WearCheck changed) => this with { Checks = Checks.Replace(old, changed) };
}
