using System.Collections.Immutable;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Money;
using Workshop.Core.Orders;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Jobs;

/// <summary>What an order was paid goes into the accounts of the jobs that its watches became.</summary>
internal static class OrderPayments
{
    /// <summary>Writes what the order was paid into the jobs that its watches became, each part once.</summary>
    /// <returns>What could not be carried, in sentences.</returns>
    public static string[] Carry(Turn turn, StoredStorefront storefront, StoredOrder order)
    {
        var against = new List<string>();
        var arrivals = ArrivalStore.OfOrder(turn, storefront.Id, order.OrderRef);
        var facts = order.ReadFacts();
        var carried = order.ReadCarried();
        var pieces = arrivals.Select(one => new PayingPiece(
            one.ReadLabel(), one.ReadOrdered().AmountMinor, one.ReadState() == ArrivalStanding.Expected, one.ReadState() == ArrivalStanding.Arrived)).ToImmutableArray();
        foreach (var due in PaymentShares.Due(facts, pieces, carried))
        {
            var job = arrivals.First(one => one.ReadLabel() == due.Arrival).BecameJob()!.Value;
            var told = facts.Paid.FirstOrDefault(one => one.Payment == due.Payment);
            var currency = told?.Currency ?? facts.Refunds[^1].Currency;
            if (turn.History(job) is not { } history || history.Job.Money.Payments.Length >= MoneyBook.PaymentsAtMost)
            {
                continue;
            }

            if (Account.FixedCurrency(history.Job) is { } kept && kept != currency)
            {
                against.Add($"The account of {job} is in {kept}; a payment in {currency} was not written into it.");
                continue;
            }

            carried = carried.Add(due);
            HearInJob(turn, history, storefront, $"order/{order.OrderRef}/{due.Payment}/{carried.Length}", new PaymentRecorded
            {
                Payment = history.Job.Money.Payments.Length + 1,
                Kind = due.AmountMinor < 0 ? PaymentKind.Refund : told?.Kind == OrderPaymentKind.Deposit ? PaymentKind.Deposit : PaymentKind.Balance,
                AmountMinor = Math.Abs(due.AmountMinor),
                Currency = currency,
                How = PaymentHow.Other,
                Reference = Shortened($"{order.OrderRef} {due.Payment}"),
            });
        }

        OrderStore.Save(turn, order.With(carried));
        return [.. against];
    }

    /// <summary>Writes into a job what follows from something a storefront told, once.</summary>
    public static void HearInJob(Turn turn, JobHistory history, StoredStorefront storefront, string cause, WorkshopEvent one) =>
        JobTurn.HearElsewhere(turn, history, one, new EventId(storefront.Source, cause), new Place(turn.Now, EventId.Service, 0, turn.NextPosition), []);

    private static string Shortened(string text) => text.Length <= 100 ? text : text[..100];
}
