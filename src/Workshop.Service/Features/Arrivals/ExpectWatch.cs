using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Orders;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Arrivals;

public sealed record ExpectBody
{
    /// <summary>The id of a customer, or who they are, as at intake.</summary>
    public required JsonElement Customer { get; init; }

    /// <summary>What the customer said of the watch.</summary>
    [StringLength(2_000, MinimumLength = 1)]
    public required string Words { get; init; }

    /// <summary>The kind of work that was spoken of.</summary>
    [StringLength(60)]
    public string? Variant { get; init; }

    [StringLength(60)]
    public string? Serial { get; init; }

    /// <summary>The day from which it is waited for; today where left out.</summary>
    public LocalDate? WaitsFrom { get; init; }
}

public sealed record EndArrivalBody
{
    /// <summary>same-watch, never-came, sent-back, cancelled or other.</summary>
    public required ArrivalEnd Reason { get; init; }

    /// <summary>With the same watch: the job it is.</summary>
    public Label? Job { get; init; }

    [StringLength(2_000)]
    public string? Note { get; init; }
}

/// <summary>Somebody says by telephone that a watch is on its way.</summary>
public static class ExpectWatch
{
    private const int DaysAhead = 366;

    public static Task<Once<Results<Made<ArrivalView>, ProblemHttpResult>>> Handle(JsonBody<ExpectBody> body, Once once, Writer writer) =>
        once.Do(writer, body.Bytes, turn => Expect(turn, body.Value));

    internal static Results<Made<ArrivalView>, ProblemHttpResult> Expect(Turn turn, ExpectBody body)
    {
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var (customer, faults) = KnownOrNew<CustomerDetails>.Read(body.Customer, "/customer");
        Fault[] all =
        [
            .. faults,
            .. customer?.Described?.Faults("/customer", today) ?? [],
            .. customer?.Id is { } id && CustomerStore.Find(turn, id) is null ? [new Fault("/customer", "There is no customer with this id")] : Array.Empty<Fault>(),
            .. body.Variant is { } variant && !turn.Rules.Routes.ContainsKey(variant)
                ? [new Fault("/variant", $"The shop's kinds of work are {string.Join(", ", turn.Rules.Routes.Keys.Order(StringComparer.Ordinal))}")] : Array.Empty<Fault>(),
            .. body.WaitsFrom is { } day && (day < today.PlusDays(-DaysAhead) || day > today.PlusDays(DaysAhead)) ? [new Fault("/waitsFrom", "This day is further than a year away")] : Array.Empty<Fault>(),
        ];
        if (all.Length > 0)
        {
            return Problems.BadFields(all);
        }

        var customerId = customer!.Id;
        if (customerId is null)
        {
            customerId = DeskCommand.NewId(turn);
            CustomerStore.Add(turn, customerId, customer.Described!);
        }

        var from = body.WaitsFrom is { } on && on != today ? on.AtStartOfDayInZone(turn.Rules.Calendar.Zone).ToInstant() : turn.Now;
        var added = ArrivalStore.Add(turn, new StoredArrival
        {
            Label = "",
            CustomerId = customerId,
            Ordered = ArrivalStore.Write(new OrderedThing { Variant = body.Variant, Serial = body.Serial }),
            Words = body.Words,
            State = Word.Of(ArrivalStanding.Expected),
            WaitsFrom = Microseconds.Of(from),
            Created = 0,
            Version = 0,
        });
        ArrivalMessages.Expected(turn, added);
        HouseAgenda.Refresh(turn);
        return Answer.Made($"/v1/arrivals/{added.Label}", added.Version, ArrivalView.Of(added));
    }
}

/// <summary>A watch is not waited for any more; what was ordered and paid is another matter.</summary>
public static class EndArrival
{
    public static async Task<Once<Results<Done<ArrivalView>, ProblemHttpResult>>> Handle(string label, JsonBody<EndArrivalBody> body, Once once, Writer writer) =>
        ReadArrivals.TryRead(label, out var read, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => End(turn, read, body.Value))
            : new Once<Results<Done<ArrivalView>, ProblemHttpResult>>(refusal!);

    internal static Results<Done<ArrivalView>, ProblemHttpResult> End(Turn turn, Label label, EndArrivalBody body)
    {
        if (ArrivalStore.Find(turn, label) is not { } arrival)
        {
            return ReadArrivals.NoArrival();
        }

        if (body.Reason == ArrivalEnd.NoLongerOrdered || (body.Reason == ArrivalEnd.Cancelled && arrival.Storefront is not null))
        {
            return Problems.BadFields(new Fault("/reason", "What becomes of an order is for its storefront to say"));
        }

        if (body.Reason == ArrivalEnd.SameWatch != (body.Job is not null))
        {
            return Problems.BadFields(new Fault("/job", "The same watch names the job it is, and nothing else does"));
        }

        if (body.Job is { } job && turn.History(job) is null)
        {
            return Problems.BadFields(new Fault("/job", "There is no job with this label"));
        }

        if (arrival.ReadState() == ArrivalStanding.Arrived)
        {
            return ExpectedAtDesk.NotExpected(arrival);
        }

        var after = arrival with
        {
            State = Word.Of(ArrivalStanding.Ended),
            Reason = Word.Of(body.Reason),
            Note = body.Note,
            Job = body.Job?.ToString(),
        };
        ArrivalStore.Change(turn, arrival, after);
        HouseAgenda.Refresh(turn);
        return Answer.Done(ArrivalView.Of(ArrivalStore.Find(turn, label)!));
    }
}
