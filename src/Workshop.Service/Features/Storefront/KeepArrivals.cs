using System.Collections.Immutable;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Orders;
using Workshop.Core.Words;
using Workshop.Service.Features.Arrivals;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Storefront;

/// <summary>Makes expected watches and their jobs follow an order, whatever of it was heard last.</summary>
internal static class KeepArrivals
{
    /// <summary>An order that is taken back in the job's own words; no customer's.</summary>
    private const string OrderCancelled = "The order was cancelled";

    private const string Unrepaired = "return-unrepaired";

    public static Followed Follow(Turn turn, StoredStorefront storefront, StoredOrder order, Followed followed)
    {
        var facts = order.ReadFacts();
        if (facts.Newest is not { } newest)
        {
            return followed.Flagged(StorefrontFlag.UnknownOrder, "Nothing but this is known of the order yet.");
        }

        var customer = order.CustomerRef is { } reference ? StorefrontCustomers.IdOf(turn, storefront.Id, reference) : null;
        var people = order.ReadPeople();
        var known = ArrivalStore.OfOrder(turn, storefront.Id, order.OrderRef).ToDictionary(one => (one.Line, (int)one.Piece!.Value));
        foreach (var piece in facts.Pieces())
        {
            var ordered = ArrivalStore.Write(new OrderedThing
            {
                Product = piece.Product,
                Options = piece.Options,
                AmountMinor = piece.AmountMinor,
                Currency = newest.Currency,
                Serial = piece.Serial,
                FixedDate = newest.FixedDate,
                Polish = newest.Polish,
                OldPartsBack = newest.OldPartsBack,
                NotBefore = newest.NotBefore,
            });
            var told = new StoredArrival
            {
                Label = "",
                Storefront = storefront.Id,
                OrderRef = order.OrderRef,
                Line = piece.Line,
                Piece = piece.Piece,
                CustomerId = customer,
                Ordered = ordered,
                Words = people?.Words.GetValueOrDefault(piece.Line),
                State = Word.Of(piece.End is null ? ArrivalStanding.Expected : ArrivalStanding.Ended),
                Reason = piece.End is { } end ? Word.Of(end) : null,
                WaitsFrom = Microseconds.Of(facts.WaitsFrom ?? newest.PlacedAt),
                Created = 0,
                Version = 0,
            };
            if (!known.TryGetValue((piece.Line, piece.Piece), out var before))
            {
                var added = ArrivalStore.Add(turn, told);
                ArrivalMessages.Expected(turn, added);
                followed = followed with { AgendaChanged = true };
                continue;
            }

            var after = before with { CustomerId = customer, Ordered = ordered, Words = told.Words, WaitsFrom = told.WaitsFrom };
            if (before.ReadState() == ArrivalStanding.Arrived)
            {
                followed = TellJob(turn, storefront, before, piece.End, followed);
                after = after with { Reason = told.Reason };
            }
            else if (before.ReadReason() is null or ArrivalEnd.Cancelled or ArrivalEnd.NoLongerOrdered)
            {
                after = after with { State = told.State, Reason = told.Reason };
            }

            followed = followed with { AgendaChanged = ArrivalStore.Change(turn, before, after) || followed.AgendaChanged };
        }

        return TellDisputes(turn, storefront, order, facts, Carried(turn, storefront, order, followed));
    }

    private static Followed Carried(Turn turn, StoredStorefront storefront, StoredOrder order, Followed followed)
    {
        var against = OrderPayments.Carry(turn, storefront, order);
        return against.Length == 0 ? followed : followed.Flagged(StorefrontFlag.Refused, against);
    }

    // While a payment is disputed nothing leaves the house.
    private static Followed TellDisputes(Turn turn, StoredStorefront storefront, StoredOrder order, OrderFacts facts, Followed followed)
    {
        var disputed = facts.Disputed.Any();
        foreach (var arrival in ArrivalStore.OfOrder(turn, storefront.Id, order.OrderRef).Where(one => one.ReadState() == ArrivalStanding.Arrived))
        {
            if (turn.History(arrival.BecameJob()!.Value) is not { } history || history.Job.Standings.HandedOver)
            {
                continue;
            }

            var count = facts.Disputes.Length;
            if (disputed && !history.Job.Holds.Holds(HoldReason.Dispute))
            {
                OrderPayments.HearInJob(turn, history, storefront, $"order/{order.OrderRef}/disputed/{count}", new HoldPlaced { Hold = HoldReason.Dispute, Reason = "A payment of the order is disputed" });
            }
            else if (!disputed && facts.Disputes.Length > 0 && history.Job.Holds.Holds(HoldReason.Dispute) && PlacedByUs(history, storefront))
            {
                OrderPayments.HearInJob(turn, history, storefront, $"order/{order.OrderRef}/dispute-closed/{count}", new HoldLifted { Hold = HoldReason.Dispute });
            }
        }

        return followed;
    }

    private static bool PlacedByUs(JobHistory history, StoredStorefront storefront) =>
        history.Entries.Any(entry => entry.Counts && entry.Event is HoldPlaced { Hold: HoldReason.Dispute } && entry.CausedBy is { } cause && cause.Source == storefront.Source);

    private static Followed TellJob(Turn turn, StoredStorefront storefront, StoredArrival arrival, ArrivalEnd? end, Followed followed)
    {
        if (end is null || arrival.ReadReason() == end || arrival.BecameJob() is not { } job || turn.History(job) is not { } history)
        {
            return followed;
        }

        if (end != ArrivalEnd.Cancelled)
        {
            return followed.Flagged(StorefrontFlag.ChangedAfterArrival, $"{job} is here, and the order as it is now has not got it.") with { Job = job.ToString() };
        }

        // What was agreed and perhaps begun is a person's to unmake.
        if (history.Job.Standings.HandedOver || history.Job.Quotes.AnyAccepted || !turn.Rules.Routes.ContainsKey(Unrepaired))
        {
            return followed.Flagged(StorefrontFlag.CancelledAfterArrival, $"{job} is here and its work is agreed: speak with the customer.") with { Job = job.ToString() };
        }

        if (history.Job.Intake.Variant == Unrepaired || history.Job.Standings.ReturnsUnrepaired)
        {
            return followed;
        }

        var changed = ChangeVariant.Change(turn, job, new VariantBody { Variant = Unrepaired, Reason = OrderCancelled }, Speaks(turn, storefront));
        return changed.Result is Http.Answers.Done<VariantChangedView>
            ? followed with { Job = job.ToString() }
            : followed.Flagged(StorefrontFlag.CancelledAfterArrival, $"{job} is here and cannot simply go back: look at it.") with { Job = job.ToString() };
    }

    /// <summary>As whom a storefront speaks where a use case asks who is calling.</summary>
    public static Caller Speaks(Turn turn, StoredStorefront storefront) =>
        new() { Site = turn.Site, KeyId = $"storefront {storefront.Id}", Role = Role.Storefront, Source = storefront.Source };
}
