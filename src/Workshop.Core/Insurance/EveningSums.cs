using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Core.Shop;

namespace Workshop.Core.Insurance;

/// <summary>A watch of the house as the evening list values it.</summary>
/// <param name="DeclaredMinor">In the smallest unit of the currency; null where nobody has declared a value.</param>
public sealed record ValuedWatch(Label Job, ImmutableArray<Piece> Pieces, long? DeclaredMinor, string? Currency);

/// <summary>Declared values in one place and one currency.</summary>
/// <param name="AmountMinor">In the smallest unit; for a single watch that of the highest value.</param>
/// <param name="Watches">How many it is the sum of.</param>
/// <param name="LimitMinor">What the policy covers; null where the shop has said nothing.</param>
public sealed record EveningSum(InsuredWhere Where, string Currency, long AmountMinor, int Watches, long? LimitMinor)
{
    public bool Over => AmountMinor > LimitMinor;
}

/// <summary>A parcel to a firm that is insured for less than the watch was declared to be worth.</summary>
public sealed record UnderInsured(Label Job, string Holder, string? Note, long InsuredMinor, long DeclaredMinor, string Currency);

/// <summary>
/// Sums of declared values. A watch whose pieces lie apart counts whole in every place where a piece of it lies: what a place could lose
/// is asked there, and nobody has declared what a half is worth. In the house each counts once.
/// </summary>
public static class EveningSums
{
    public static ImmutableArray<EveningSum> Of(IReadOnlyCollection<ValuedWatch> watches, Instant now, ShopRules rules)
    {
        var sums = ImmutableArray.CreateBuilder<EveningSum>();
        var limits = rules.Insurance.Limits;
        var currencies = watches.Select(one => one.Currency).OfType<string>().Concat(limits.Select(limit => limit.Currency)).Distinct().Order(StringComparer.Ordinal);
        foreach (var currency in currencies)
        {
            var valued = watches.Where(one => one.Currency == currency && one.DeclaredMinor is not null).ToArray();
            foreach (var where in Enum.GetValues<InsuredWhere>())
            {
                var there = where == InsuredWhere.OneWatch ? valued : [.. valued.Where(one => one.Pieces.Any(piece => IsAt(piece, where, now, rules)))];
                var limit = limits.FirstOrDefault(one => one.Where == where && one.Currency == currency)?.AmountMinor;
                var (amount, count) = where == InsuredWhere.OneWatch
                    ? (there.Length == 0 ? 0 : there.Max(one => one.DeclaredMinor!.Value), Math.Min(there.Length, 1))
                    : (there.Sum(one => one.DeclaredMinor!.Value), there.Length);
                sums.Add(new EveningSum(where, currency, amount, count, limit));
            }
        }

        return sums.ToImmutable();
    }

    public static ImmutableArray<UnderInsured> UnderInsured(IEnumerable<ValuedWatch> watches) =>
    [
        .. from watch in watches
           where watch is { DeclaredMinor: not null, Currency: not null }
           from piece in watch.Pieces
           where piece is { IsWithFirm: true, InsuredMinor: not null } && piece.Currency == watch.Currency && piece.InsuredMinor < watch.DeclaredMinor
           group piece by (watch, piece.Holder, piece.Note, Insured: piece.InsuredMinor!.Value) into parcel
           select new UnderInsured(parcel.Key.watch.Job, parcel.Key.Holder, parcel.Key.Note, parcel.Key.Insured, parcel.Key.watch.DeclaredMinor!.Value, parcel.Key.watch.Currency!),
    ];

    /// <summary>Whether a piece that went to a firm still counts as on its way.</summary>
    public static bool IsInTransit(Piece piece, Instant now, ShopRules rules) =>
        piece.IsWithFirm && rules.Calendar.DateOf(now) <= rules.Calendar.OpenDayAfter(rules.Calendar.DateOf(piece.Since), rules.Insurance.InTransitWorkingDays);

    private static bool IsAt(Piece piece, InsuredWhere where, Instant now, ShopRules rules) => where switch
    {
        InsuredWhere.House => piece.IsHome,
        InsuredWhere.Safe => rules.Insurance.IsSafe(piece.Holder),
        InsuredWhere.OutsideSafe => piece.IsHome && !rules.Insurance.IsSafe(piece.Holder),
        InsuredWhere.Firms => piece.IsWithFirm && !IsInTransit(piece, now, rules),
        InsuredWhere.InTransit => IsInTransit(piece, now, rules),
        _ => true,
    };
}
