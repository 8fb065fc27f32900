using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Intake;
using Workshop.Core.Labels;
using Workshop.Core.Shop;

namespace Workshop.Core.Orders;

/// <summary>A watch that is waited for, as the agenda sees it.</summary>
/// <param name="Order">The storefront's name of the order; null where the desk expects it.</param>
/// <param name="WaitsFrom">From when its days are counted.</param>
public sealed record WaitedFor(Label Arrival, string? Order, Instant WaitsFrom);

/// <summary>A message of a storefront that somebody has to look at.</summary>
/// <param name="Number">The number under which it was received.</param>
public sealed record FlaggedMessage(long Number, string Type, string? Order, ImmutableArray<StorefrontFlag> Flags, Instant Received);

/// <summary>What falls due of orders and belongs to no job.</summary>
public static class ArrivalPlan
{
    /// <summary>The end of the last day on which the watch may come without being asked for.</summary>
    public static Instant AskedAt(Instant waitsFrom, ShopRules rules) =>
        rules.Calendar.EndOfDay(rules.Calendar.DateOf(waitsFrom).PlusDays(rules.Orders.ArrivesWithinDays));

    public static AgendaRow Row(AnnouncementLog said, WaitedFor waited, ShopRules rules)
    {
        var due = AskedAt(waited.WaitsFrom, rules);
        return AgendaPlan.Build(
            said, AgendaKind.ArrivalOverdue, waited.Arrival.ToString(), due, rules.Calendar.NextOpening(due),
            waited.Order is { } order ? $"Order {order}: the watch has not come; ask the customer" : "An expected watch has not come; ask the customer",
            (AgendaLevel.Due, () => due));
    }

    /// <summary>Looked at when the shop is open; whoever asks to be forgotten asks the manager.</summary>
    public static AgendaRow Row(AnnouncementLog said, FlaggedMessage message, ShopRules rules)
    {
        var erasure = message.Flags.Contains(StorefrontFlag.ErasureAsked);
        return AgendaPlan.Build(
            said, erasure ? AgendaKind.ErasureAsked : AgendaKind.StorefrontFlagged, $"{message.Number}", message.Received, rules.Calendar.NextOpening(message.Received),
            erasure ? "A customer asks to be forgotten"
                : $"{message.Type}{(message.Order is { } order ? $" of order {order}" : "")}: {string.Join(", ", message.Flags.Select(Words.Word.Of))}",
            (erasure ? AgendaLevel.Manager : AgendaLevel.Due, () => message.Received));
    }
}

/// <summary>The moments of an order about which its customer may be written to.</summary>
/// <param name="OrderReceivedAt">When the order was told.</param>
/// <param name="KitSentAt">When packing was sent to the customer.</param>
/// <param name="AskedAt">From then on the watch is asked for.</param>
/// <param name="Over">It has come, or is not expected any more: nothing is written about it.</param>
public sealed record ArrivalMoments(Instant OrderReceivedAt, Instant? KitSentAt, Instant AskedAt, bool Over);

/// <summary>What stands on the bench beside what was ordered.</summary>
public static class OrderComparison
{
    /// <param name="ordered">The kind of work behind what was ordered; null where the product is unknown.</param>
    /// <param name="serialOrdered">As the customer wrote it.</param>
    /// <param name="serial">As engraved, where it was read.</param>
    public static ImmutableArray<OrderDiffers> Of(string? ordered, string? saidVariant, CalibreKind? kind, string? serialOrdered, string? serial, ShopRules rules)
    {
        var differs = ImmutableArray.CreateBuilder<OrderDiffers>();
        if (ordered is not null && (saidVariant is { } said ? said != ordered : UsualElsewhere(ordered, kind, rules)))
        {
            differs.Add(OrderDiffers.Work);
        }

        if (serialOrdered is not null && serial is not null && !Casing.WatchNumber.Agree(serialOrdered, serial))
        {
            differs.Add(OrderDiffers.Serial);
        }

        return differs.ToImmutable();
    }

    // A regulation is a regulation of any movement; a service of an automatic is none of a chronograph.
    private static bool UsualElsewhere(string ordered, CalibreKind? kind, ShopRules rules) =>
        kind is { } stands
        && rules.UsualVariants.TryGetValue(Words.Word.Of(stands), out var usual) && usual != ordered
        && rules.UsualVariants.Values.Contains(ordered);
}
