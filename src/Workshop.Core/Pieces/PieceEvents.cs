using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Pieces;

/// <summary>The kinds of piece a job is made of, each with its own place and holder.</summary>
public enum PieceKind
{
    Movement,
    Case,
    Bezel,
    Back,
    CrownAndPushers,
    DialAndHands,
    Bracelet,
    Links,
    OldParts,
    NewParts,
    BoxAndPapers,
    Other,
}

/// <summary>Which pieces are meant: a label or number, or a kind the job has one of, or neither: the whole watch.</summary>
public abstract record PieceEvent : WorkshopEvent
{
    /// <summary>The piece's own label, or the id under which the job lists it.</summary>
    public string? Piece { get; init; }

    public PieceKind? Kind { get; init; }

    /// <summary>A reference: <c>people/…</c>, <c>places/…</c>, <c>benches/…</c>, <c>trays/…</c>, <c>firms/…</c>, <c>sites/…</c>, <c>customer</c>.</summary>
    public string? From { get; init; }

    public string? To { get; init; }
}

/// <summary>One half of a hand-off: until it is taken, it is still the giver's. To a firm nothing needs to be taken.</summary>
public sealed record PieceGiven : PieceEvent
{
    /// <summary>For a firm: the day it is expected back.</summary>
    public LocalDate? ExpectedBack { get; init; }

    /// <summary>For a firm: the number of the delivery note that goes with it. What left with one is counted in piece by piece.</summary>
    public string? Note { get; init; }

    /// <summary>For a firm: the sum it is insured for on its way, in the smallest unit of <see cref="Currency"/>.</summary>
    public long? InsuredMinor { get; init; }

    /// <summary>ISO 4217.</summary>
    public string? Currency { get; init; }
}

/// <summary>The other half: the piece is now with whoever took it.</summary>
public sealed record PieceTaken : PieceEvent
{
    /// <summary>How many were counted, for what comes back from a firm.</summary>
    public int? Count { get; init; }
}

/// <summary>A piece is laid in a place, one half only.</summary>
public sealed record PiecePut : PieceEvent
{
    /// <summary>
    /// True: nobody is to touch it until it is moved; false: whoever is there may go on with it. Where left out, the work that is open on it says so.
    /// </summary>
    public bool? HandsOff { get; init; }

    /// <summary>How many were counted, for what comes back from a firm.</summary>
    public int? Count { get; init; }
}
