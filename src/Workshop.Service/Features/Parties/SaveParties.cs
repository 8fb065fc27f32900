using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Parties;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Parties;

/// <summary>The people round a watch by the ids of customers; whoever is left out is the customer of the intake.</summary>
public sealed record PartiesBody
{
    /// <summary>Whose watch it is.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string? Owner { get; init; }

    [StringLength(60, MinimumLength = 1)]
    public string? BroughtBy { get; init; }

    [StringLength(60, MinimumLength = 1)]
    public string? Payer { get; init; }

    /// <summary>Who gets it back.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string? Recipient { get; init; }

    /// <summary>Whose yes or no to a quote counts.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string? Decides { get; init; }

    /// <summary>Who is written to.</summary>
    [Length(1, 10)]
    public ImmutableArray<string>? Told { get; init; }

    /// <summary>A gift: before this day nobody is told anything but the payer, who gives it.</summary>
    public LocalDate? NotBefore { get; init; }

    /// <summary>The badge of whoever writes it down.</summary>
    [StringLength(60)]
    public string? Person { get; init; }

    internal PartiesChanged Said() => new()
    {
        Owner = Owner,
        BroughtBy = BroughtBy,
        Payer = Payer,
        Recipient = Recipient,
        Decides = Decides,
        Told = Told,
        NotBefore = NotBefore,
    };
}

/// <summary>Says anew who the people round a watch are; names stay with the customers, the entry holds ids alone.</summary>
public static class SaveParties
{
    public static async Task<Results<Seen<PartiesView>, ProblemHttpResult>> Handle(
        string label, JsonBody<PartiesBody> body, SeenState seen, Caller caller, Writer writer, CancellationToken cancel) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await writer.Turn(caller.Site, turn => Save(turn, job, body.Value, seen, caller), cancel)
            : refusal;

    private static Results<Seen<PartiesView>, ProblemHttpResult> Save(Turn turn, Label label, PartiesBody body, SeenState seen, Caller caller)
    {
        if (turn.History(label) is not { Job.TakenIn: true } history)
        {
            return PathLabel.NoJob();
        }

        if (seen.RefusalUnlessStill(history.Job.Parties.Version) is { } changed)
        {
            return changed;
        }

        var said = body.Said();
        if (Faults(turn, history.Job, said).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var decision = NameParties.Say(turn, history, said, caller, body.Person);
        if (decision.Outcome == Outcome.Refused)
        {
            return TypedResults.Problem(DeskCommand.Refusal(decision));
        }

        var view = PartiesView.Of(turn.History(label)!.Job, id => CustomerStore.Find(turn, id));
        return Answer.Seen(view.Version, view);
    }

    private static IEnumerable<Fault> Faults(Turn turn, Job job, PartiesChanged said)
    {
        (string Pointer, string? Id)[] named =
        [
            ("/owner", said.Owner), ("/broughtBy", said.BroughtBy), ("/payer", said.Payer), ("/recipient", said.Recipient), ("/decides", said.Decides),
            .. (said.Told ?? []).Select((id, i) => ($"/told/{i}", (string?)id)),
        ];
        foreach (var (pointer, id) in named.Where(one => one.Id is not null && CustomerStore.Find(turn, one.Id) is null))
        {
            yield return new Fault(pointer, "There is no customer with this id");
        }

        foreach (var (i, id) in (said.Told ?? []).Index().Where(one => said.Told!.Value.Take(one.Index).Contains(one.Item)))
        {
            yield return new Fault($"/told/{i}", "Each is named once");
        }

        if (said.NotBefore is not null && (said.Payer ?? job.Intake.Customer) == (said.Recipient ?? job.Intake.Customer))
        {
            yield return new Fault("/notBefore", "A gift goes to somebody else than whoever pays for it");
        }
    }
}
