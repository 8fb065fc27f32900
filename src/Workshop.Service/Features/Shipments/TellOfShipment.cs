using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Journal;
using Workshop.Core.Shipments;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Shipments;

public sealed record ShipmentDeliveredBody
{
    /// <summary>The day in the workshop's own calendar; today where left out.</summary>
    public LocalDate? On { get; init; }

    /// <summary>By whose word; the carrier's where left out.</summary>
    public DeliveryProof How { get; init; }

    /// <summary>The badge of whoever writes it down.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

public sealed record ShipmentLostBody
{
    [StringLength(2_000, MinimumLength = 1)]
    public required string Reason { get; init; }

    /// <summary>The badge of whoever writes it down.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>
/// What became of a parcel, written into every job in it. A delivery starts the warranty of what was handed over with it where its day is
/// later than presumed, never where it is earlier.
/// </summary>
public static class TellOfShipment
{
    public static async Task<Once<Results<Done<ShipmentView>, ProblemHttpResult>>> Delivered(string id, JsonBody<ShipmentDeliveredBody> body, Once once, Caller caller, Writer writer) =>
        await once.Do(writer, body.Bytes, turn => Deliver(turn, id, body.Value, caller));

    public static async Task<Once<Results<Done<ShipmentView>, ProblemHttpResult>>> Lost(string id, JsonBody<ShipmentLostBody> body, Once once, Caller caller, Writer writer) =>
        await once.Do(writer, body.Bytes, turn => Lose(turn, id, body.Value, caller));

    private static Results<Done<ShipmentView>, ProblemHttpResult> Deliver(Turn turn, string id, ShipmentDeliveredBody body, Caller caller)
    {
        if (ShipmentStore.Find(turn, id) is not { } shipment)
        {
            return ReadShipments.NoShipment();
        }

        var calendar = turn.Rules.Calendar;
        var today = calendar.DateOf(turn.Now);
        var on = body.On ?? today;
        if (on > today || on < calendar.DateOf(Microseconds.Read(shipment.SentAt)))
        {
            return Problems.BadFields(new Fault("/on", "A parcel arrives on a day from its sending to today"));
        }

        var jobs = ShipmentStore.Jobs(turn, id);
        var day = LocalDatePattern.Iso.Format(on);
        if (shipment.DeliveredOn == day)
        {
            return Answer.Done(ShipmentView.Of(shipment, jobs));
        }

        foreach (var one in jobs)
        {
            DeskCommand.Say(turn, turn.History(one.Job)!, caller, new ShipmentDelivered { Shipment = id, On = on }, body.Person);

            // Pieces that went in another parcel do not begin it: the warranty runs from the last hand-over.
            if (shipment.Direction == Word.Of(ParcelDirection.ToCustomer) && turn.History(one.Job)! is { Job.Warranty: { How: HandedOverHow.Dispatched, HandedOverOn: { } left } } history && on >= left)
            {
                DeskCommand.Say(turn, history, caller, new DeliveryRecorded { On = on, How = body.How }, body.Person);
            }
        }

        var after = shipment with { DeliveredOn = day, LostAt = null };
        ShipmentStore.Change(turn, after);
        return Answer.Done(ShipmentView.Of(after, jobs));
    }

    private static Results<Done<ShipmentView>, ProblemHttpResult> Lose(Turn turn, string id, ShipmentLostBody body, Caller caller)
    {
        if (ShipmentStore.Find(turn, id) is not { } shipment)
        {
            return ReadShipments.NoShipment();
        }

        var jobs = ShipmentStore.Jobs(turn, id);
        if (shipment.DeliveredOn is { } day)
        {
            return Problems.Of(ProblemCatalogue.ShipmentArrived, $"The parcel arrived on {day}.", ("shipment", id), ("deliveredOn", day));
        }

        if (shipment.LostAt is not null)
        {
            return Answer.Done(ShipmentView.Of(shipment, jobs));
        }

        if (string.IsNullOrWhiteSpace(body.Reason))
        {
            return Problems.BadFields(new Fault("/reason", "Say how it is known"));
        }

        foreach (var one in jobs)
        {
            DeskCommand.Say(turn, turn.History(one.Job)!, caller, new ShipmentLost { Shipment = id, Reason = body.Reason }, body.Person);
        }

        var after = shipment with { LostAt = Microseconds.Of(turn.Now) };
        ShipmentStore.Change(turn, after);
        return Answer.Done(ShipmentView.Of(after, jobs));
    }
}
