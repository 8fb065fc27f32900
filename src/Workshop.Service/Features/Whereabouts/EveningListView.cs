using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Insurance;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Core.Route;

namespace Workshop.Service.Features.Whereabouts;

/// <summary>Everything the house answers for, by where it is, and what the safe was counted to hold.</summary>
/// <param name="Day">The day it is the list of.</param>
/// <param name="DueAt">The moment by which the safe is to have been counted; absent on a day the shop is shut.</param>
/// <param name="Places">Places in the order of their references, the safe first.</param>
/// <param name="Safe">The newest count; absent where it was never counted.</param>
/// <param name="Values">Sums of declared values; for those who may see amounts.</param>
public sealed record EveningListView(LocalDate Day, Instant At, Instant? DueAt, ImmutableArray<PlaceView> Places, SafeView? Safe, ValuesView? Values);

/// <summary>A holder with all it has.</summary>
/// <param name="IsSafe">It counts as the safe.</param>
public sealed record PlaceView(string Holder, bool IsSafe, ImmutableArray<PlacedPiece> Pieces);

/// <param name="Open">The stage that somebody is at with it; it lies open.</param>
/// <param name="GivenTo">Given and not taken yet: still the holder's.</param>
/// <param name="InTransit">On its way to a firm.</param>
public sealed record PlacedPiece(
    Label Job, string Piece, PieceKind Kind, int Count, Instant Since, Stage? Open, string? GivenTo, LocalDate? ExpectedBack, string? Note, bool? InTransit);

/// <param name="Counted">Pieces counted.</param>
/// <param name="CountedToday">The count is of this day.</param>
/// <param name="Missing">Said to lie in the safe and not counted, as <c>&lt;job&gt;/&lt;piece&gt;</c>.</param>
/// <param name="Elsewhere">Counted, and said to be elsewhere.</param>
public sealed record SafeView(Instant At, string? By, int Counted, bool CountedToday, ImmutableArray<string> Missing, ImmutableArray<string> Elsewhere);

/// <summary>Declared values; the policy itself decides what is covered.</summary>
/// <param name="Sums">A watch whose pieces lie apart counts whole in every place where one of them lies; in the house once.</param>
/// <param name="WithoutValue">Watches for which no value was declared: they are in no sum.</param>
/// <param name="UnderInsured">Parcels to firms that are insured for less than the watch was declared to be worth.</param>
/// <param name="DoesNotKnow">What the sums leave out.</param>
public sealed record ValuesView(
    ImmutableArray<SumView> Sums, ImmutableArray<string> Warnings, ImmutableArray<Label> WithoutValue, ImmutableArray<UnderInsured> UnderInsured, ImmutableArray<string> DoesNotKnow);

/// <param name="AmountMinor">In the smallest unit.</param>
/// <param name="LimitMinor">Absent where the shop has said none.</param>
public sealed record SumView(InsuredWhere Where, string Currency, long AmountMinor, int Watches, long? LimitMinor, bool Over);
