using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Watches;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Owners;

public sealed record OwnerBody
{
    /// <summary>The new owner, by the id of their record.</summary>
    [StringLength(60, MinimumLength = 1)]
    public required string Customer { get; init; }

    /// <summary>Since when it is theirs; today where left out.</summary>
    public LocalDate? From { get; init; }

    public HowOwned How { get; init; }
}

/// <summary>
/// A watch has another owner. The house writes no more letters of care about it to whoever had it; its warranty goes with the watch as the
/// rule set of each line says.
/// </summary>
public static class AddOwner
{
    public static async Task<Results<Done<WatchLife>, ProblemHttpResult>> Handle(string id, JsonBody<OwnerBody> body, Caller caller, Writer writer, CancellationToken cancel) =>
        await writer.Turn(caller.Site, turn => Add(turn, id, body.Value), cancel);

    private static Results<Done<WatchLife>, ProblemHttpResult> Add(Turn turn, string id, OwnerBody body)
    {
        if (WatchStore.Find(turn, id) is not { } watch)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "There is no watch with this id.");
        }

        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var (owners, from) = (OwnerView.Of(OwnerStore.All(turn, id)), body.From ?? today);
        if (Faults(turn, body, owners.LastOrDefault(), from, today).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        // Told again, nothing has changed hands.
        if (owners is not [.., var last] || last.Customer != body.Customer)
        {
            OwnerStore.Add(turn, id, body.Customer, from, body.How);
            WatchStore.ChangeOwner(turn, id, body.Customer);
        }

        return Answer.Done(new WatchLife(
            WatchView.Of(watch), body.Customer, [.. WatchStore.Jobs(turn, id).Select(JobOfWatch.Of)], OwnerView.Of(OwnerStore.All(turn, id)), null));
    }

    private static IEnumerable<Fault> Faults(Turn turn, OwnerBody body, OwnerView? last, LocalDate from, LocalDate today)
    {
        if (CustomerStore.Find(turn, body.Customer) is null)
        {
            yield return new Fault("/customer", "There is no customer with this id");
        }

        if (from > today)
        {
            yield return new Fault("/from", "This day is to come");
        }
        else if (last is not null && from < last.From && last.Customer != body.Customer)
        {
            yield return new Fault("/from", $"It has been somebody else's since {last.From:uuuu-MM-dd}");
        }
    }
}
