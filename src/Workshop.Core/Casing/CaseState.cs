using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.Casing;

/// <summary>Whether the case counts as closed, and the numbers that belong to this watch.</summary>
public sealed record CaseState
{
    public static readonly CaseState Unknown = new();

    /// <summary>A closing stands in the journal and no opening after it.</summary>
    public bool Closed { get; init; }

    public Instant? Since { get; init; }

    public string? CaseSerial { get; init; }

    public string? MovementNumber { get; init; }

    public Heard<CaseState> Apply(Entry entry, Standings standings) => entry.Event switch
    {
        // A watch that was adopted after its casing is a closed one.
        JobTakenIn taken => new(this with
        {
            CaseSerial = taken.CaseSerial,
            MovementNumber = taken.MovementNumber,
            Closed = taken.Adopted is { } adopted && standings.Route?.ComesBefore(Stage.Casing, adopted.At) == true,
        }),
        CaseClosed closed => Close(closed, entry, standings),
        CaseOpened => new(Open(entry), new Fell(Stage.Casing)),
        SealSeen { State: SealState.Broken } when standings.Of(Stage.Casing).IsBehind => new(Open(entry), new Fell(Stage.Casing)),
        _ => new(this),
    };

    /// <summary>Work that needs an open case was done on one that counted as closed: it was opened, whoever forgot to say so.</summary>
    public Heard<CaseState> ImplyOpening(Entry entry) => new(Open(entry), new Fell(Stage.Casing));

    private CaseState Open(Entry entry) => this with { Closed = false, Since = entry.Effective };

    // Closed again after a diagnosis, waiting for the answer, the watch is only closed; its casing comes later.
    private Heard<CaseState> Close(CaseClosed closed, Entry entry, Standings standings)
    {
        var after = this with
        {
            Closed = true,
            Since = entry.Effective,
            CaseSerial = CaseSerial ?? closed.CaseSerial,
            MovementNumber = MovementNumber ?? closed.MovementNumber,
        };
        return standings.QueueReached ? new(after, new Ended(Stage.Casing)) : new(after);
    }
}
