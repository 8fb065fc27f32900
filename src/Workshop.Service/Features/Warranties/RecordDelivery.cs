using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Warranties;

public sealed record DeliveryBody
{
    /// <summary>The day in the workshop's own calendar; this or <c>at</c>.</summary>
    public LocalDate? On { get; init; }

    /// <summary>The moment, where one is known.</summary>
    public Instant? At { get; init; }

    /// <summary>By whose word.</summary>
    public DeliveryProof? How { get; init; }

    /// <summary>The badge of whoever writes it down.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>What the report of a delivery has done to the warranty.</summary>
/// <param name="On">The day that was told.</param>
/// <param name="Counts">Whether the warranty now runs from that day.</param>
/// <param name="Words">The same in one sentence.</param>
/// <param name="Version">The version of the job.</param>
public sealed record DeliveryView(Label Job, LocalDate On, bool Counts, string Words, ImmutableArray<WarrantyLineView> Warranty, string StatutoryRights, long Version);

/// <summary>
/// A parcel was delivered. The warranty of a watch that was sent starts with the day of delivery, which is presumed until a later one is
/// proven; an earlier one takes nothing back.
/// </summary>
public static class RecordDelivery
{
    public static async Task<Once<Results<Done<DeliveryView>, ProblemHttpResult>>> Handle(
        string label, JsonBody<DeliveryBody> body, Once once, Caller caller, LanguageAsked language, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Record(turn, job, body.Value, caller, language.Best))
            : new Once<Results<Done<DeliveryView>, ProblemHttpResult>>(refusal);

    internal static Results<Done<DeliveryView>, ProblemHttpResult> Record(Turn turn, Label label, DeliveryBody body, Caller caller, Language language = Language.English)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        if (history.Job.Warranty is not { How: HandedOverHow.Dispatched, HandedOverOn: { } dispatchedOn })
        {
            return Problems.Of(ProblemCatalogue.NotDispatched, "No parcel of this job is on its way or was.", ("job", label));
        }

        var on = body.On ?? (body.At is { } at ? turn.Rules.Calendar.DateOf(at) : (LocalDate?)null);
        if (Faults(turn, body, on, dispatchedOn).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var told = new DeliveryRecorded { On = on!.Value, How = body.How };
        if (history.Entries.Any(entry => entry.Counts && entry.Event is DeliveryRecorded known && known == told))
        {
            return Answer.Done(View(history.Job, told.On, language));
        }

        var decision = DeskCommand.Say(turn, history, caller, told, body.Person);
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Done(View(decision.Job, told.On, language));
    }

    private static DeliveryView View(Job job, LocalDate on, Language language)
    {
        var lines = job.Warranty.Lines;
        var counts = !lines.IsEmpty && lines.All(line => line.StartsOn == on);
        var words = lines.IsEmpty ? Phrase.Of("Kept; this work came without a warranty.")
            : counts ? Phrase.Of("The warranty starts with delivery on {0}.", new Spoken(on))
            : Phrase.Of("A later day is known already: the warranty starts on {0}.", new Spoken(lines.Max(line => line.StartsOn)));
        return new DeliveryView(job.Label, on, counts, words.In(language), WarrantyLineView.Of(job.Warranty, on, language), job.Warranty.SentenceIn(language), job.Version);
    }

    private static IEnumerable<Fault> Faults(Turn turn, DeliveryBody body, LocalDate? on, LocalDate dispatchedOn)
    {
        var pointer = body.On is null ? "/at" : "/on";
        if (body is { On: null, At: null } or { On: not null, At: not null })
        {
            yield return new Fault("/on", "A delivery has its day, on, or its moment, at; one of the two");
        }
        else if (body.At > turn.Now || on > turn.Rules.Calendar.DateOf(turn.Now))
        {
            yield return new Fault(pointer, "This is to come");
        }
        else if (on < dispatchedOn)
        {
            yield return new Fault(pointer, $"This is before dispatch on {dispatchedOn:uuuu-MM-dd}");
        }
    }
}
