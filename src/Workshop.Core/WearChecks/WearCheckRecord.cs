using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;

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
    EventId Id, Instant At, WearVerdict Verdict, Duration Elapsed, Duration Wear, decimal? RatePerDaySeconds, decimal? PlusMinusSeconds, bool MeanOfDays, Duration? SettledAfter);

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

    private Duration PausedUntil(Instant at) =>
        Pauses.Aggregate(Duration.Zero, (sum, pause) => sum + (Earlier(pause.Until ?? at, at) is var end && end > pause.From ? end - pause.From : Duration.Zero));

    private static Instant Earlier(Instant one, Instant other) => one < other ? one : other;
}

/// <summary>All worn checks of a job, the fails since the movement was last rebuilt, and the fails in all.</summary>
public sealed record WearCheckRecord
{
    public ImmutableArray<WearCheck> Checks { get; init; } = [];

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

    /// <summary>The last check that passed, failed or stopped.</summary>
    public WearCheck? LastJudged => Checks.LastOrDefault(check => check.Verdict is WearVerdict.Pass or WearVerdict.Outside or WearVerdict.OutsideFar or WearVerdict.Stopped);

    /// <summary>What one event read; null where it read nothing.</summary>
    public WearReading? ReadingOf(EventId id) => Checks.SelectMany(check => check.Readings).LastOrDefault(reading => reading.Id == id);

    /// <summary>What a check that starts now owes, by the route's figures and what went before.</summary>
    /// <param name="rules">The route's figures.</param>
    /// <param name="window">The window of the route.</param>
    /// <param name="startUncertainty">Expanded uncertainty of the reading at the start, seconds.</param>
    /// <param name="asked">Wear asked for by the bench; counts where it is more.</param>
    public WearTerms TermsFor(WearRules rules, RateWindow window, decimal startUncertainty, Duration? asked)
    {
        var (owed, forAPass) =
            StoppedSince ? (rules.OwedAfterAStop, rules.OwedAfterAStop)
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

    public Heard<WearCheckRecord> Apply(Entry entry) => entry.Event switch
    {
        WearCheckStarted started when Running is null && entry.Judged.Wear is { } terms => new(
            this with { Checks = Checks.Add(new WearCheck { Start = entry.Id, StartedAt = entry.Effective, OffsetSeconds = started.OffsetSeconds ?? 0, Terms = terms, Unconfirmed = entry.Has(EntryFlag.ClockSuspect), Passed = entry.Judged.Passing }) },
            new Began(Stage.WearCheck)),
        WearCheckPaused paused when Running is { PausedSince: null } running =>
            new(Change(running, running with { Pauses = running.Pauses.Add(new WearPause(entry.Effective, null, paused.Reason)) })),
        WearCheckResumed when Running is { PausedSince: not null } running => new(Change(running, EndPause(running, entry.Effective))),
        WearCheckConfirmed confirmed when Running is { Unconfirmed: true } running => Confirm(running, confirmed, entry),
        WearCheckRead read when Running is { } running => Read(running, read, entry),
        _ => new(this),
    };

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

        return after;
    }

    private Heard<WearCheckRecord> Read(WearCheck running, WearCheckRead read, Entry entry)
    {
        var check = EndPause(running, entry.Effective);
        var reading = Judge(check, read, entry);
        return End(running, check with { Readings = check.Readings.Add(reading), LastRead = (read, entry) }, reading, entry);
    }

    // A person says when it truly began. What was read last is judged by it.
    private Heard<WearCheckRecord> Confirm(WearCheck running, WearCheckConfirmed confirmed, Entry entry)
    {
        var check = running with { Unconfirmed = false, StartedAt = confirmed.StartedAt is { } told && told < entry.Effective ? told : running.StartedAt };
        if (running is not { Readings: [.., { Verdict: WearVerdict.Unconfirmed }], LastRead: var (read, of) })
        {
            return new(Change(running, check));
        }

        var reading = Judge(check, read, of);
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

    private static WearReading Judge(WearCheck check, WearCheckRead read, Entry entry)
    {
        var elapsed = entry.Effective - check.StartedAt;
        var wear = check.WearAt(entry.Effective);
        var meanOfDays = elapsed > check.Terms.FlaggedBeyond;
        if (read.Stopped == true || read.OffsetSeconds is not { } offset || WearArithmetic.Rate(check.OffsetSeconds, offset, elapsed) is not { } rate)
        {
            var verdict = read.Stopped == true ? WearVerdict.Stopped : WearVerdict.Interim;
            return new WearReading(entry.Id, entry.Effective, verdict, elapsed, wear, null, null, meanOfDays, null);
        }

        var uncertainty = WearArithmetic.ReadingUncertainty(read.ReadBy, read.StepSeconds, read.RoundTripMilliseconds, check.Terms.ByEyeSeconds);
        var plusMinus = WearArithmetic.PlusMinus(check.Terms.StartUncertaintySeconds, uncertainty, elapsed) ?? 0;
        var window = check.Terms.Window;
        var judged =
            wear < check.Terms.ForAPass || read.Interim == true ? WearVerdict.Interim
            : WearArithmetic.Inconclusive(rate, plusMinus, window) ? WearVerdict.Inconclusive
            : check.Unconfirmed ? WearVerdict.Unconfirmed
            : window.Holds(rate) ? WearVerdict.Pass
            : window.TwiceAsWide().Holds(rate) ? WearVerdict.Outside
            : WearVerdict.OutsideFar;
        var settled = judged == WearVerdict.Inconclusive ? WearArithmetic.SettledAfter(rate, check.Terms.StartUncertaintySeconds, uncertainty, window) : null;
        return new WearReading(entry.Id, entry.Effective, judged, elapsed, wear, rate, plusMinus, meanOfDays, settled);
    }

    private static WearCheck EndPause(WearCheck check, Instant at) =>
        check.PausedSince is null ? check : check with { Pauses = check.Pauses.SetItem(check.Pauses.Length - 1, check.Pauses[^1] with { Until = at }) };

    private WearCheckRecord Change(WearCheck old, WearCheck changed) => this with { Checks = Checks.Replace(old, changed) };
}
