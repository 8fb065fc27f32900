using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Orders;
using Workshop.Core.Pieces;
using Workshop.Core.Route;

namespace Workshop.Core.Intake;

/// <summary>Something not known at intake, and the stage that will ask for it.</summary>
public sealed record MissingMember(string Member, Stage NeededFor);

/// <summary>Something handed in with the watch, counted.</summary>
public sealed record CountedPiece(PieceKind Kind, int Count, string? Note = null);

/// <summary>One watch of an order: the arrival that became the job.</summary>
/// <param name="Arrival">The label under which the watch was expected.</param>
/// <param name="Storefront">Whose order it is, for example <c>/storefront/shop</c>.</param>
/// <param name="Line">Of the order.</param>
/// <param name="Piece">1, 2 … within the line.</param>
public sealed record OrderedAs(Label Arrival, string Storefront, string Order, string Line, int Piece)
{
    /// <summary>What the watch on the bench is otherwise than ordered: then a new quote is asked for. Null where nothing is.</summary>
    public ImmutableArray<OrderDiffers>? Differs { get; init; }
}

/// <summary>
/// The watch is in the house. The customer and the watch themselves stand in tables of their own; this entry names them by id
/// and keeps what the rules of the job need.
/// </summary>
public sealed record JobTakenIn : WorkshopEvent
{
    public required string Variant { get; init; }

    public required string Customer { get; init; }

    public required string Watch { get; init; }

    /// <summary>As engraved, where it was read.</summary>
    public string? CaseSerial { get; init; }

    public string? MovementNumber { get; init; }

    public ImmutableArray<MissingMember> Missing { get; init; } = [];

    public ImmutableArray<CountedPiece> Counted { get; init; } = [];

    /// <summary>Dangers known or suspected, by id (see the hazards area).</summary>
    public ImmutableArray<string> Hazards { get; init; } = [];

    /// <summary>Where the pieces lie first, a reference.</summary>
    public string At { get; init; } = "places/desk";

    /// <summary>The day the customer needs it by, if there is one.</summary>
    public LocalDate? FixedDate { get; init; }

    /// <summary>For a watch that comes back under warranty: the job it was handed over with.</summary>
    public Label? WarrantyOf { get; init; }

    /// <summary>Whether case and bracelet are to be polished; absent where nobody asked.</summary>
    public PolishWish? Polish { get; init; }

    /// <summary>For a job of the paper book that begins here midway.</summary>
    public Adopted? Adopted { get; init; }

    /// <summary>For a watch that a storefront sent: the order it came under.</summary>
    public OrderedAs? Ordered { get; init; }
}
