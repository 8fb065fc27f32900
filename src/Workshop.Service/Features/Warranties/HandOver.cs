using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Warranties;

public sealed record HandOverBody
{
    public required HandedOverHow How { get; init; }

    /// <summary>The pieces given back; all that are here where left out.</summary>
    [Length(1, 100)]
    public ImmutableArray<string>? Pieces { get; init; }

    /// <summary>To whom: <c>customer</c>, or <c>customers/…</c> for somebody else who is known. Names stand with customers alone.</summary>
    [StringLength(120)]
    public string? To { get; init; }

    public bool? IdentitySeen { get; init; }

    /// <summary>When it was; now where left out.</summary>
    public Instant? At { get; init; }

    /// <summary>Gates that ask and are to be passed.</summary>
    [Length(0, 20)]
    public ImmutableArray<string>? Despite { get; init; }

    /// <summary>The badge of whoever gave it out.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>What was given back, and the warranty that begins with the last piece.</summary>
/// <param name="On">The day in the workshop's own calendar.</param>
/// <param name="Pieces">Given back now.</param>
/// <param name="StillHere">Not with the customer yet.</param>
/// <param name="Version">The version of the job.</param>
public sealed record HandOverView(
    Label Job, HandedOverHow How, LocalDate On, bool HandedOver, ImmutableArray<string> Pieces, ImmutableArray<string> StillHere,
    ImmutableArray<WarrantyLineView> Warranty, string StatutoryRights, Outcome Outcome, ImmutableArray<string> Flags, ImmutableArray<AgainstView> Against, long Version);

/// <summary>
/// The watch, or a piece of it, leaves the house. Told at once it may be refused; told later it has happened, and what stood against it
/// waits for a manager.
/// </summary>
public static class HandOver
{
    private const string ToCustomers = "customers/";

    public static async Task<Once<Results<Done<HandOverView>, ProblemHttpResult>>> Handle(
        string label, JsonBody<HandOverBody> body, Once once, Caller caller, LanguageAsked language, Writer writer, EventSettings settings) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Give(turn, job, body.Value, caller, settings, language.Best))
            : new Once<Results<Done<HandOverView>, ProblemHttpResult>>(refusal);

    internal static Results<Done<HandOverView>, ProblemHttpResult> Give(Turn turn, Label label, HandOverBody body, Caller caller, EventSettings settings, Language language = Language.English)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        var at = DeskCommand.Told(turn, body.At);

        // Who asks for a watch that is gone is told so, whatever else is not right.
        var before = history.Job;
        if (!before.Standings.HandedOver && Faults(turn, before, body, at).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var on = turn.Rules.Calendar.DateOf(at);
        var decision = DeskCommand.Say(
            turn,
            history,
            caller,
            new JobHandedOver { How = body.How, Pieces = body.Pieces, To = body.To, IdentitySeen = body.IdentitySeen, On = on },
            body.Person,
            body.Despite,
            at,
            live: turn.Now - at <= settings.LiveWithin);
        if (decision.Outcome == Outcome.Refused)
        {
            return TypedResults.Problem(DeskCommand.Refusal(decision));
        }

        var after = decision.Job;
        if (after.Standings.HandedOver && !before.Standings.HandedOver && before.Intake.WarrantyOf is { } old)
        {
            ClaimStays.WentBack(turn, old, turn.Rules.Calendar.DateOf(before.Intake.TakenInAt ?? at), on, caller, body.Person);
        }

        var was = before.Pieces.Pieces.ToDictionary(piece => piece.Id, piece => piece.Holder);
        return Answer.Done(new HandOverView(
            label, body.How, on, after.Standings.HandedOver,
            [.. after.Pieces.Pieces.Where(piece => piece.Holder == Piece.Customer && was.GetValueOrDefault(piece.Id) != Piece.Customer).Select(piece => piece.Id)],
            [.. after.Pieces.Pieces.Where(piece => piece.Holder != Piece.Customer).Select(piece => piece.Id)],
            WarrantyLineView.Of(after.Warranty, on, language), after.Warranty.SentenceIn(language),
            decision.Outcome, decision.Flags, [.. decision.Against.Select(one => AgainstView.Of(one))], after.Version));
    }

    private static IEnumerable<Fault> Faults(Turn turn, Job job, HandOverBody body, Instant at)
    {
        if (at > turn.Now)
        {
            yield return new Fault("/at", "This moment is to come");
        }
        else if (at < job.Intake.TakenInAt)
        {
            yield return new Fault("/at", "This moment is before the watch was taken in");
        }
        else if (!job.Standings.ReturnsUnrepaired && at < job.FinalControl.PassedAt)
        {
            yield return new Fault("/at", "This moment is before the last final control");
        }

        foreach (var (i, id) in (body.Pieces ?? []).Index())
        {
            if (job.Pieces.Pieces.FirstOrDefault(piece => piece.Id == id) is not { } piece)
            {
                yield return new Fault($"/pieces/{i}", "The job has no such piece");
            }
            else if (!piece.IsHome)
            {
                yield return new Fault($"/pieces/{i}", $"This piece is with {piece.Holder}");
            }
        }

        if (body.To is { } to && to != Piece.Customer
            && !(to.StartsWith(ToCustomers, StringComparison.Ordinal) && CustomerStore.Find(turn, to[ToCustomers.Length..]) is not null))
        {
            yield return new Fault("/to", "This is neither 'customer' nor the reference 'customers/…' of somebody who is known");
        }
    }
}
