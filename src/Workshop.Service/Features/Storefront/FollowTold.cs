using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using System.Text.Json;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Orders;
using Workshop.Core.Shipments;
using Workshop.Core.Words;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Storefront;

/// <summary>
/// Makes the house follow what a storefront tells. Nothing is refused: what cannot be followed is flagged, and somebody looks at it.
/// </summary>
internal static class FollowTold
{
    public static Followed Follow(Turn turn, StoredStorefront storefront, CloudEvent told)
    {
        var data = JsonElement.Parse(told.Data);
        var at = told.Time?.ToInstant() ?? turn.Now;
        return told.Type switch
        {
            "order.created" or "order.changed" => Read<OrderTold>(data, out var order, out var wrong) ? Order(turn, storefront, told, order, at) : wrong,
            "order.paid" or "order.refunded" or "payment.disputed" or "payment.dispute-closed" =>
                Read<PaymentTold>(data, out var payment, out var wrong) ? Payment(turn, storefront, told.Type, payment) : wrong,
            "order.cancelled" => Read<CancellationTold>(data, out var cancelled, out var wrong)
                ? Change(turn, storefront, cancelled.Order, facts => facts.With(new OrderCancelled(cancelled.Lines)), new Followed()) : wrong,
            "shipment.sent" or "shipment.delivered" or "shipment.lost" => Read<ShipmentData>(data, out var shipment, out var wrong) ? Shipment(turn, storefront, told.Type, shipment) : wrong,
            "customer.changed" => Read<CustomerChangeTold>(data, out var changed, out var wrong) ? Customer(turn, storefront, told, changed, at) : wrong,
            "customer.erasure-asked" => Read<ErasureTold>(data, out var erasure, out var wrong)
                ? new Followed { Customer = erasure.Ref }.Flagged(StorefrontFlag.ErasureAsked, "A manager decides what can be erased now and what has to be kept.") : wrong,
            "quote.answered" or "claim.reported" or "wear.reported" => FollowAnswers.Follow(turn, storefront, told, data, at),
            _ => new Followed().Flagged(StorefrontFlag.UnknownType, "Nothing is known of this type here."),
        };
    }

    /// <summary>Reads data; a member nobody knows is let be, whoever sends it may be newer.</summary>
    public static bool Read<T>(JsonElement data, [NotNullWhen(true)] out T? value, [NotNullWhen(false)] out Followed? wrong) where T : class
    {
        (value, wrong) = (null, null);
        var faults = JsonFields.Check(data, typeof(T), unknownIsWrong: false).Concat(Names(data)).ToArray();
        if (faults.Length == 0)
        {
            try
            {
                value = data.Deserialize<T>(WorkshopJson.Options)!;
                return true;
            }
            catch (JsonException failure)
            {
                faults = [JsonFaults.Of(failure)];
            }
        }

        wrong = new Followed { Order = Text(data, "order"), Customer = Text(data, "ref") ?? (data.TryGetProperty("customer", out var customer) ? Text(customer, "ref") : null) }
            .Flagged(StorefrontFlag.BadData, [.. faults.Select(fault => $"{fault.Pointer}: {fault.Detail}")]);
        return false;
    }

    // They become parts of addresses and keys.
    private static IEnumerable<Fault> Names(JsonElement data) =>
        new[] { "order", "payment", "ref" }.Where(name => data.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String && value.GetString()!.Any(char.IsControl))
            .Select(name => new Fault($"/{name}", "A name holds no control characters"));

    private static string? Text(JsonElement data, string member) =>
        data.ValueKind == JsonValueKind.Object && data.TryGetProperty(member, out var value) && value.ValueKind == JsonValueKind.String
        && value.GetString() is { Length: > 0 and <= StorefrontNames.AtMost } text && !text.Any(char.IsControl) ? text : null;

    private static Followed Order(Turn turn, StoredStorefront storefront, CloudEvent told, OrderTold order, Instant at)
    {
        var followed = new Followed { Order = order.Order, Customer = order.Customer.Ref };
        if (order.Lines.Select(line => line.Line).Distinct(StringComparer.Ordinal).Count() != order.Lines.Length)
        {
            return followed.Flagged(StorefrontFlag.BadData, "/lines: Each line has a name of its own.");
        }

        foreach (var product in order.Lines.Select(line => line.Product).Where(product => !turn.Rules.VariantsOfProducts.ContainsKey(new(storefront.Source, product))).Distinct(StringComparer.Ordinal))
        {
            followed = followed.Flagged(StorefrontFlag.UnknownProduct, $"No kind of work has the product '{product}'; name it among a kind's products.");
        }

        StorefrontCustomers.Hear(turn, storefront.Id, order.Customer, order.BillTo?.Address ?? order.ShipTo?.Address, at, told.Id, whole: true, mayBegin: true);
        followed = followed with { AgendaChanged = Settle(turn, MessageStore.OpenOfCustomer(turn, storefront.Id, order.Customer.Ref), StorefrontFlag.UnknownCustomer) || followed.AgendaChanged };
        var digest = Convert.ToHexStringLower(told.Digest.AsSpan());
        var revision = new OrderRevision(
            order.Revision, digest, order.PlacedAt, order.Currency,
            [.. order.Lines.Select(line => new OrderedLine(line.Line, line.Product, line.Quantity, line.Options, line.AmountMinor, line.Serial)).OrderBy(line => line.Line, StringComparer.Ordinal)],
            order.NotBefore, order.Wishes?.FixedDate, order.Wishes?.Polish, order.Wishes?.OldPartsBack);
        return Change(turn, storefront, order.Order, facts => facts.With(revision), followed, stored =>
        {
            // Of the state that holds, as with everything else of the order.
            var people = stored.ReadPeople();
            return people is not null && string.CompareOrdinal($"{people.Revision:D10} {people.Digest}", $"{order.Revision:D10} {digest}") > 0 ? stored
                : (stored with { CustomerRef = order.Customer.Ref }).With(new OrderPeople
                {
                    Revision = order.Revision,
                    Digest = digest,
                    BillTo = order.BillTo,
                    ShipTo = order.ShipTo,
                    Recipient = order.Recipient,
                    Words = order.Lines.Where(line => !string.IsNullOrWhiteSpace(line.CustomersWords)).ToImmutableSortedDictionary(line => line.Line, line => line.CustomersWords!, StringComparer.Ordinal),
                    Photos = order.Lines.Where(line => !line.Photos.IsDefaultOrEmpty).ToImmutableSortedDictionary(line => line.Line, line => line.Photos, StringComparer.Ordinal),
                });
        });
    }

    private static Followed Payment(Turn turn, StoredStorefront storefront, string type, PaymentTold told)
    {
        var followed = new Followed { Order = told.Order };
        var known = OrderStore.Find(turn, storefront.Id, told.Order)?.ReadFacts() is { } facts && facts.Paid.Any(one => one.Payment == told.Payment);
        if (type != "order.paid" && !known)
        {
            followed = followed.Flagged(StorefrontFlag.UnknownPayment, $"The payment '{told.Payment}' was not told yet.");
        }

        switch (type)
        {
            case "order.paid":
                var kind = told.Kind is null ? OrderPaymentKind.Balance : Word.Read<OrderPaymentKind>(told.Kind);
                if (kind is not { } paid)
                {
                    return followed.Flagged(StorefrontFlag.BadData, $"/kind: This is none of {string.Join(", ", Word.All<OrderPaymentKind>())}.");
                }

                followed = Change(turn, storefront, told.Order, before => before.With(new OrderPayment(told.Payment, paid, told.AmountMinor, told.Currency, told.At)), followed);
                var waited = MessageStore.OpenOfOrder(turn, storefront.Id, told.Order).Where(one => NamesPayment(one, told.Payment));
                return followed with { AgendaChanged = Settle(turn, waited, StorefrontFlag.UnknownPayment) || followed.AgendaChanged };

            case "order.refunded":
                return Change(turn, storefront, told.Order, before => before.With(new OrderRefund(told.Payment, told.AmountMinor, told.Currency, told.At)), followed);

            case "payment.disputed":
                return Change(turn, storefront, told.Order, before => before.With(new OrderDispute(told.Payment, told.At)), followed.Flagged(StorefrontFlag.PaymentDisputed, "Nothing of this order leaves the house until the dispute is closed."));

            default:
                return told.Kind is null || Word.Read<DisputeEnd>(told.Kind) is not { } end
                    ? followed.Flagged(StorefrontFlag.BadData, $"/kind: This is none of {string.Join(", ", Word.All<DisputeEnd>())}.")
                    : Change(turn, storefront, told.Order, before => before.With(new OrderDispute(told.Payment, told.At, end)), followed);
        }
    }

    private static bool NamesPayment(StoredMessage message, string payment)
    {
        if (message.Body is null || !message.ReadFlags().Contains(StorefrontFlag.UnknownPayment))
        {
            return false;
        }

        using var told = JsonDocument.Parse(message.Body);
        return told.RootElement.TryGetProperty("data", out var data) && Text(data, "payment") == payment;
    }

    private static Followed Shipment(Turn turn, StoredStorefront storefront, string type, ShipmentData told)
    {
        var what = Word.Read<ShipmentTold>(type["shipment.".Length..])!.Value;
        var job = told.Job is null ? null : FollowAnswers.OwnJob(turn, storefront, told.Job);
        var followed = new Followed { Order = told.Order ?? job?.Intake.Ordered?.Order, Job = job?.Label.ToString() };
        if (told.Job is not null && job is null)
        {
            return followed.Flagged(StorefrontFlag.UnknownJob, "No job of this storefront has this label.");
        }

        if (followed.Order is not { } order)
        {
            return followed.Flagged(StorefrontFlag.BadData, "/order: A parcel is of an order or of a job.");
        }

        if (what == ShipmentTold.Lost)
        {
            followed = followed.Flagged(StorefrontFlag.ParcelLost, "Speak with the carrier and the customer.");
        }

        if (what == ShipmentTold.Delivered && told.Direction == ParcelDirection.ToCustomer && job is not null)
        {
            followed = FollowAnswers.Delivered(turn, storefront, job, told.At, followed);
        }

        // What goes back with a job is no packing for a watch that is expected.
        return job is not null && told.Direction == ParcelDirection.ToCustomer ? followed
            : Change(turn, storefront, order, facts => facts.With(new OrderShipment(what, told.Direction, told.At, told.Carrier, told.Number)), followed);
    }

    private static Followed Customer(Turn turn, StoredStorefront storefront, CloudEvent told, CustomerChangeTold changed, Instant at)
    {
        var from = changed.ValidFrom is { } day ? day.AtStartOfDayInZone(turn.Rules.Calendar.Zone).ToInstant() : at;
        var followed = new Followed { Customer = changed.Ref };
        return StorefrontCustomers.Hear(turn, storefront.Id, changed, null, from, told.Id, whole: false, mayBegin: false) is null
            ? followed.Flagged(StorefrontFlag.UnknownCustomer, "This customer has no order yet.")
            : followed;
    }

    private static Followed Change(
        Turn turn, StoredStorefront storefront, string order, Func<OrderFacts, OrderFacts> change, Followed followed, Func<StoredOrder, StoredOrder>? people = null)
    {
        var before = OrderStore.Find(turn, storefront.Id, order) ?? StoredOrder.New(storefront.Id, order);
        var after = before.With(change(before.ReadFacts()));
        after = people is null ? after : people(after);
        OrderStore.Save(turn, after);
        followed = KeepArrivals.Follow(turn, storefront, after, followed with { Order = order });
        if (after.ReadFacts().Newest is not null)
        {
            followed = followed with { AgendaChanged = Settle(turn, MessageStore.OpenOfOrder(turn, storefront.Id, order), StorefrontFlag.UnknownOrder) || followed.AgendaChanged };
        }

        return followed;
    }

    /// <summary>What was not known when a message came is known now.</summary>
    private static bool Settle(Turn turn, IEnumerable<StoredMessage> messages, StorefrontFlag flag)
    {
        var settled = messages.Where(one => one.ReadFlags().Contains(flag)).ToArray();
        foreach (var message in settled)
        {
            MessageStore.Flag(turn, message.Number, message.ReadFlags().Remove(flag), message.ReadDetails());
        }

        return settled.Length > 0;
    }
}
