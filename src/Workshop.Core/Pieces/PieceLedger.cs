using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Core.Warranties;
using Workshop.Core.Words;

namespace Workshop.Core.Pieces;

/// <summary>One piece of a job and who has it.</summary>
/// <param name="GivenTo">Given to somebody who has not taken it yet; until then it is still the giver's.</param>
public sealed record Piece(string Id, PieceKind Kind, int Count, string Holder, Instant Since, string? GivenTo, Instant? GivenAt)
{
    public const string Customer = "customer";

    /// <summary>Labels stuck on it, by which it may be named; replaced ones too, since late reports still name them.</summary>
    public ImmutableArray<string> Labels { get; init; } = [];

    /// <summary>With a firm: the day it is to be back, where one was said.</summary>
    public LocalDate? ExpectedBack { get; init; }

    /// <summary>With a firm: the number of the delivery note, where there is one.</summary>
    public string? Note { get; init; }

    /// <summary>With a firm: the sum it was insured for on its way there, in the smallest unit.</summary>
    public long? InsuredMinor { get; init; }

    public string? Currency { get; init; }

    /// <summary>Whoever laid it there said whether others may touch it; null where nobody did.</summary>
    public bool? HandsOff { get; init; }

    public bool IsLabelled(string typed) => !Labels.IsEmpty && Label.TryRead(typed, out var label) && Labels.Contains(label.Value.ToString());

    /// <summary>What people call it: by its kind, a second one of a kind with its number.</summary>
    public Term Term => new("piece", Id);

    public bool IsWithFirm => Holder.StartsWith("firms/", StringComparison.Ordinal);

    public bool IsHome => !Holder.StartsWith("firms/", StringComparison.Ordinal) && Holder != Customer;
}

/// <summary>The pieces of a job; each has exactly one holder at every instant.</summary>
public sealed record PieceLedger
{
    public ImmutableArray<Piece> Pieces { get; init; } = [];

    public ImmutableArray<Holding> Holdings { get; init; } = [];

    /// <summary>The pieces an event means: by label or id, by kind where there is one of it, or the whole watch: all that lie where the movement lies.</summary>
    public ImmutableArray<Piece> Meant(PieceEvent moved) => Meant(moved.Piece, moved.Kind);

    public ImmutableArray<Piece> Meant(string? id, PieceKind? kind)
    {
        if (id is not null)
        {
            return [.. Pieces.Where(piece => string.Equals(piece.Id, id, StringComparison.OrdinalIgnoreCase) || piece.IsLabelled(id))];
        }

        if (kind is not null)
        {
            var ofKind = Pieces.Where(piece => piece.Kind == kind).ToImmutableArray();
            return ofKind.Length == 1 ? ofKind : [];
        }

        return Pieces.FirstOrDefault(piece => piece.Kind == PieceKind.Movement) is { } movement
            ? [.. Pieces.Where(piece => piece.Holder == movement.Holder)]
            : Pieces;
    }

    /// <summary>Who has a piece after it was taken: the place it was taken to, else the person, else the bench.</summary>
    public static string? TakerOf(PieceTaken taken, string? person, string? bench) =>
        taken.To ?? (person is not null ? $"people/{person}" : bench is not null ? $"benches/{bench}" : null);

    /// <summary>
    /// Whether a piece may be taken: from a place, bench or tray by anyone; from a person only by the one it was given to, or by the same
    /// person; from a firm when the firm is named. Whoever saw it elsewhere comes second.
    /// </summary>
    public static bool MayTake(Piece piece, PieceTaken taken, string? person, string? bench)
    {
        if (piece.Holder == Piece.Customer || (taken.From is { } from && from != piece.Holder))
        {
            return false;
        }

        var kind = piece.Holder.Split('/')[0];
        return kind switch
        {
            "firms" => taken.From == piece.Holder,
            "people" => piece.Holder == $"people/{person}" || (piece.GivenTo is { } to && (to == $"people/{person}" || to == $"benches/{bench}" || to == taken.To || IsPlace(to))),
            _ => true,
        };
    }

    /// <summary>A piece that comes back from a firm in another number than it went; null where that is not so.</summary>
    public Piece? Differing(WorkshopEvent one) => one switch
    {
        PieceTaken { Count: { } counted } taken => Differing(taken, counted),
        PiecePut { Count: { } counted } put => Differing(put, counted),
        _ => null,
    };

    private Piece? Differing(PieceEvent back, int counted) => Meant(back) is [{ IsWithFirm: true } piece] && piece.Count != counted ? piece : null;

    // What is given to a place is given to whoever works there.
    private static bool IsPlace(string reference) => reference.StartsWith("places/", StringComparison.Ordinal);

    public Heard<PieceLedger> Apply(Entry entry) => entry.Event switch
    {
        JobTakenIn taken => new(Begin(taken, entry)),
        PieceGiven given => new(Change(InTheHouse(given), piece => Give(piece, given, entry), entry)),
        PieceTaken taken => new(Change(InTheHouse(taken), piece => Take(piece, taken, entry), entry)),
        PiecePut put => new(Change(InTheHouse(put), piece => Move(piece, put.To ?? piece.Holder, entry) with { HandsOff = put.HandsOff }, entry)),
        LabelAttached { Piece: { } id } attached => new(Stick(attached.Label, Meant(id, null))),
        LabelReplaced replaced => new(Stick(replaced.By, Meant(replaced.Label.ToString(), null))),
        JobHandedOver over => HandOver(over, entry),
        _ => new(this),
    };

    private PieceLedger Stick(Label label, ImmutableArray<Piece> meant) => meant is [var piece] && !piece.IsLabelled(label.ToString())
        ? this with { Pieces = Pieces.Replace(piece, piece with { Labels = piece.Labels.Add(label.ToString()) }) }
        : this;

    // What has gone back to the customer is not the house's to move.
    private ImmutableArray<Piece> InTheHouse(PieceEvent moved) => Meant(moved).RemoveAll(piece => piece.Holder == Piece.Customer);

    private PieceLedger Begin(JobTakenIn taken, Entry entry)
    {
        var pieces = ImmutableArray.CreateBuilder<Piece>();
        CountedPiece[] always = [new(PieceKind.Movement, 1), new(PieceKind.Case, 1), new(PieceKind.DialAndHands, 1)];
        foreach (var counted in always.Concat(taken.Counted))
        {
            var word = Word.Of(counted.Kind);
            var same = pieces.Count(piece => piece.Kind == counted.Kind);
            pieces.Add(new Piece(same == 0 ? word : $"{word}-{same + 1}", counted.Kind, counted.Count, taken.At, entry.Effective, null, null));
        }

        return new PieceLedger
        {
            Pieces = pieces.ToImmutable(),
            Holdings = [.. pieces.Select(piece => new Holding(piece.Id, piece.Holder, entry.Effective, null, entry.Id, null))],
        };
    }

    private static Piece Give(Piece piece, PieceGiven given, Entry entry) =>
        given.To is null ? piece
        : given.To == piece.Holder ? piece with { GivenTo = null, GivenAt = null, ExpectedBack = given.ExpectedBack ?? piece.ExpectedBack, Note = given.Note ?? piece.Note, InsuredMinor = given.InsuredMinor ?? piece.InsuredMinor, Currency = given.Currency ?? piece.Currency }
        : given.To.StartsWith("firms/", StringComparison.Ordinal) ? Move(piece, given.To, entry) with { ExpectedBack = given.ExpectedBack, Note = given.Note, InsuredMinor = given.InsuredMinor, Currency = given.Currency }
        : piece with { GivenTo = given.To, GivenAt = entry.Effective };

    private static Piece Take(Piece piece, PieceTaken taken, Entry entry) =>
        TakerOf(taken, entry.Person, entry.Judged.Bench) is { } taker ? Move(piece, taker, entry) : piece;

    private static Piece Move(Piece piece, string holder, Entry entry) =>
        piece.Holder == holder ? piece with { GivenTo = null, GivenAt = null }
        : piece with { Holder = holder, Since = entry.Effective, GivenTo = null, GivenAt = null, ExpectedBack = null, Note = null, InsuredMinor = null, Currency = null, HandsOff = null };

    private Heard<PieceLedger> HandOver(JobHandedOver over, Entry entry)
    {
        var given = Pieces.Where(piece => piece.IsHome && over.Pieces?.Contains(piece.Id) != false).ToImmutableArray();
        var after = Change(given, piece => Move(piece, Piece.Customer, entry), entry);
        return after.Pieces.All(piece => piece.Holder == Piece.Customer) ? new(after, new Ended(Stage.HandedOver)) : new(after);
    }

    private PieceLedger Change(ImmutableArray<Piece> meant, Func<Piece, Piece> change, Entry entry)
    {
        var after = this;
        foreach (var piece in meant)
        {
            var changed = change(piece);
            if (changed == piece)
            {
                continue;
            }

            var holdings = after.Holdings;
            if (changed.Holder != piece.Holder)
            {
                var open = holdings.FirstOrDefault(one => one.Thing == piece.Id && one.Until is null);
                if (open is not null)
                {
                    holdings = holdings.Replace(open, open with { Until = entry.Effective, ClosedBy = entry.Id });
                }

                holdings = holdings.Add(new Holding(piece.Id, changed.Holder, entry.Effective, null, entry.Id, null));
            }

            after = after with { Pieces = after.Pieces.Replace(piece, changed), Holdings = holdings };
        }

        return after;
    }
}
