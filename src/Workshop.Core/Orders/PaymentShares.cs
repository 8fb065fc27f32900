using System.Collections.Immutable;
using Workshop.Core.Labels;

namespace Workshop.Core.Orders;

/// <summary>What of an order's money was written into a job.</summary>
/// <param name="Payment">The storefront's name for it.</param>
/// <param name="AmountMinor">Less than nothing for what was paid back.</param>
public sealed record CarriedPayment(string Payment, Label Arrival, long AmountMinor);

/// <summary>A watch of an order, as far as money goes.</summary>
/// <param name="Waits">It has not come, and is still expected.</param>
/// <param name="Here">It became a job.</param>
public sealed record PayingPiece(Label Arrival, long AmountMinor, bool Waits, bool Here);

/// <summary>
/// Pays the jobs of an order from the order's payments. Each payment is divided by what the watches cost, every part is carried once, and the
/// parts come to the whole, whenever the watches arrive.
/// </summary>
public static class PaymentShares
{
    /// <summary>What is to be carried now.</summary>
    /// <param name="carried">What was carried before.</param>
    public static ImmutableArray<CarriedPayment> Due(OrderFacts order, ImmutableArray<PayingPiece> pieces, ImmutableArray<CarriedPayment> carried)
    {
        var due = ImmutableArray.CreateBuilder<CarriedPayment>();
        foreach (var payment in order.Paid)
        {
            var before = carried.Where(one => one.Payment == payment.Payment && one.AmountMinor > 0).ToArray();
            var left = payment.AmountMinor - before.Sum(one => one.AmountMinor);
            var open = Paying([.. pieces.Where(one => (one.Waits || one.Here) && before.All(share => share.Arrival != one.Arrival))]);
            foreach (var piece in open.Where(one => one.Here))
            {
                var share = open.Count == 1 ? left : Share(left, piece.AmountMinor, open.Sum(one => one.AmountMinor), open.Count);
                left -= share;
                open = [.. open.Where(one => one != piece)];
                if (share > 0)
                {
                    due.Add(new CarriedPayment(payment.Payment, piece.Arrival, share));
                }
            }
        }

        // Whose refund it is shows only when no watch is waited for any more; what nobody's job was paid is paid back first.
        if (pieces.Any(one => one.Waits))
        {
            return due.ToImmutable();
        }

        var all = carried.AddRange(due);
        var inJobs = all.Where(one => one.AmountMinor > 0).Sum(one => one.AmountMinor);
        var owed = order.RefundedMinor - (order.PaidMinor - inJobs) + all.Where(one => one.AmountMinor < 0).Sum(one => one.AmountMinor);
        foreach (var piece in pieces.Where(one => one.Here))
        {
            var back = Math.Min(owed, all.Where(one => one.Arrival == piece.Arrival).Sum(one => one.AmountMinor));
            if (back > 0)
            {
                owed -= back;
                due.Add(new CarriedPayment(order.Refunds[^1].Payment, piece.Arrival, -back));
            }
        }

        return due.ToImmutable();
    }

    // What costs nothing is paid nothing, unless all of it costs nothing.
    private static List<PayingPiece> Paying(List<PayingPiece> pieces) => pieces.Exists(one => one.AmountMinor > 0) ? pieces.FindAll(one => one.AmountMinor > 0) : pieces;

    private static long Share(long left, long weight, long ofAll, int count) => ofAll <= 0 ? left / count : (long)((Int128)left * weight / ofAll);
}
