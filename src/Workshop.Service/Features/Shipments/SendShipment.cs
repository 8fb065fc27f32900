using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Money;
using Workshop.Core.Shipments;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Shipments;

public sealed record ShippedJobBody
{
    public required Label Job { get; init; }

    /// <summary>Pieces of it, by their ids; all of it where left out.</summary>
    [Length(1, 100)]
    public ImmutableArray<string>? Pieces { get; init; }
}

public sealed record ShipmentBody
{
    /// <summary>Every watch in the parcel. A watch in several parcels is in several of these, with its pieces.</summary>
    [Length(1, 50)]
    public required ImmutableArray<ShippedJobBody> Jobs { get; init; }

    public required ParcelDirection Direction { get; init; }

    /// <summary>One of the shop's rules, or any name.</summary>
    [StringLength(100, MinimumLength = 1)]
    public required string Carrier { get; init; }

    /// <summary>The carrier's number for the parcel.</summary>
    [StringLength(100, MinimumLength = 1)]
    public string? Number { get; init; }

    /// <summary>When the carrier got it; now where left out.</summary>
    public Instant? SentAt { get; init; }

    /// <summary>What the parcel is insured for, minor units; nothing where left out.</summary>
    [Range(0, MoneyBook.MinorAtMost)]
    public long? InsuredMinor { get; init; }

    /// <summary>ISO 4217, together with <c>insuredMinor</c>.</summary>
    [RegularExpression("[A-Z]{3}")]
    public string? Currency { get; init; }

    /// <summary>Gates that ask and are to be passed.</summary>
    [Length(0, 20)]
    public ImmutableArray<string>? Despite { get; init; }

    /// <summary>The badge of whoever packed it.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>A parcel with one watch, with several, or with pieces of one. It is written into each job, or into none.</summary>
public static class SendShipment
{
    public static async Task<Once<Results<Made<ShipmentView>, ProblemHttpResult>>> Handle(JsonBody<ShipmentBody> body, Once once, Caller caller, Writer writer) =>
        await once.Do(writer, body.Bytes, turn => Send(turn, body.Value, caller));

    private static Results<Made<ShipmentView>, ProblemHttpResult> Send(Turn turn, ShipmentBody body, Caller caller)
    {
        var at = DeskCommand.Told(turn, body.SentAt);
        var histories = body.Jobs.Select(one => one.Job.Kind == LabelKind.Job ? turn.History(one.Job) : null).ToArray();
        var values = body.Jobs.Select(one => IntakeSheet.Read(turn.Intake(one.Job)?.Text ?? "{}").Members).Where(one => one.DeclaredValueMinor is not null).ToArray();
        if (Faults(turn, body, histories, values, at).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var id = DeskCommand.NewId(turn);
        var currency = body.Currency ?? values.FirstOrDefault()?.Currency;
        var carrier = turn.Rules.Shipping.Find(body.Carrier);
        ShipmentSent Of(ShippedJobBody one) => new()
        {
            Shipment = id,
            Direction = body.Direction,
            Pieces = one.Pieces,
            With = body.Jobs.Length > 1 ? [.. body.Jobs.Select(other => other.Job).Where(other => other != one.Job)] : null,
            Carrier = carrier?.Name ?? body.Carrier,
            Number = body.Number,
            InsuredMinor = body.InsuredMinor,
            CarrierInsuresMinor = carrier is { InsuresAtMostMinor: { } most } && carrier.Currency == currency ? most : null,
            DeclaredMinor = values.Length == 0 ? null : values.Sum(value => value.DeclaredValueMinor!.Value),
            Currency = currency,
        };

        foreach (var (one, history) in body.Jobs.Zip(histories))
        {
            var asked = DeskCommand.Ask(turn, history!, caller, Of(one), body.Person, body.Despite, at);
            if (asked.Outcome == Outcome.Refused)
            {
                return TypedResults.Problem(DeskCommand.Refusal(asked));
            }
        }

        foreach (var one in body.Jobs)
        {
            DeskCommand.Say(turn, turn.History(one.Job)!, caller, Of(one), body.Person, body.Despite, at);
        }

        var stored = new StoredShipment
        {
            Id = id,
            Direction = Word.Of(body.Direction),
            Carrier = carrier?.Name ?? body.Carrier,
            Number = body.Number,
            InsuredMinor = body.InsuredMinor,
            Currency = body.InsuredMinor is null ? null : currency,
            SentAt = Microseconds.Of(at),
        };
        ImmutableArray<JobInShipment> jobs = [.. body.Jobs.Select(one => new JobInShipment(one.Job, one.Pieces ?? [])).OrderBy(one => one.Job.ToString(), StringComparer.Ordinal)];
        ShipmentStore.Add(turn, stored, jobs);
        return Answer.Made($"/v1/shipments/{id}", 1, ShipmentView.Of(stored, jobs));
    }

    private static IEnumerable<Fault> Faults(Turn turn, ShipmentBody body, JobHistory?[] histories, IntakeMembers[] values, Instant at)
    {
        if (at > turn.Now)
        {
            yield return new Fault("/sentAt", "This moment is to come");
        }

        foreach (var (i, one) in body.Jobs.Index())
        {
            if (histories[i] is not { Job.TakenIn: true } history)
            {
                yield return new Fault($"/jobs/{i}/job", "There is no such job");
                continue;
            }

            if (body.Jobs.Take(i).Any(before => before.Job == one.Job))
            {
                yield return new Fault($"/jobs/{i}/job", "This job is named twice");
            }

            foreach (var (j, piece) in (one.Pieces ?? []).Index().Where(named => history.Job.Pieces.Pieces.All(known => known.Id != named.Item)))
            {
                yield return new Fault($"/jobs/{i}/pieces/{j}", "The job has no such piece");
            }
        }

        if (body.InsuredMinor is null != body.Currency is null)
        {
            yield return new Fault("/currency", "An insured sum has its currency");
        }

        foreach (var currency in values.Select(value => value.Currency).Append(body.Currency).Where(one => one is not null).Distinct().Skip(1).Take(1))
        {
            yield return new Fault("/currency", $"Values are declared in {currency} too: nobody adds them up, send them in parcels of one currency");
        }
    }
}
