using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Money;
using Workshop.Core.PersonalData;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.PublicPages;
using Workshop.Service.Features.Storefront;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PersonalData;

/// <summary>What was erased, and what stays and why.</summary>
/// <param name="Jobs">Whose work, measurements and warranty stay, without anybody's name.</param>
/// <param name="Entries">Entries of their journals that lost free text.</param>
public sealed record ErasedView(string Customer, Instant ErasedAt, ImmutableArray<Label> Jobs, int Entries, string Words);

/// <summary>
/// Who a customer is goes: name, ways to reach them, and what was written freely. Days, work, measurements, amounts and warranty lines stay with
/// the watch, for the law may ask for them, and whoever owns the watch has a right to its warranty.
/// </summary>
public static class EraseCustomer
{
    public static Task<Results<Done<ErasedView>, ProblemHttpResult>> Handle(string id, Caller caller, LanguageAsked language, Writer writer, CancellationToken cancel) =>
        writer.Turn(caller.Site, turn => Asked(turn, id, caller, language.Best), cancel);

    private static Results<Done<ErasedView>, ProblemHttpResult> Asked(Turn turn, string id, Caller caller, Language language)
    {
        if (CustomerStore.Find(turn, id) is null)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "There is no customer with this id.");
        }

        var (jobs, against) = Look(turn, id);
        if (!against.IsEmpty)
        {
            return Problems.Of(
                ProblemCatalogue.StillNeeded, $"Who this is, is still needed: {string.Join(", ", against.Select(one => WordLists.Of(one.Why, Language.English)).Distinct())}.",
                ("customer", id), ("because", against.Select(one => new NeededView(one.Job, one.Why)).ToArray()));
        }

        if (ErasureStore.ErasedAt(turn, id) is { } before)
        {
            return Answer.Done(Shown(id, before, jobs, 0, language));
        }

        return Answer.Done(Shown(id, turn.Now, jobs, Erase(turn, id, jobs, caller.Source, afterItsTime: false), language));
    }

    /// <summary>Every job of a customer, and what stands against forgetting who that is.</summary>
    internal static (ImmutableArray<Label> Jobs, ImmutableArray<(Label Job, StillNeeded Why)> Against) Look(Turn turn, string customer)
    {
        var jobs = ErasureStore.JobsOf(turn, customer).ToImmutableArray();
        var keptHere = turn.Rules.Money.Kept == MoneyKept.Here;
        return (jobs, [.. from label in jobs let job = turn.History(label)!.Job from why in Erasure.Against(job, keptHere) select (label, why)]);
    }

    /// <summary>Erases; nothing may stand against it.</summary>
    /// <returns>Entries that lost text.</returns>
    internal static int Erase(Turn turn, string customer, ImmutableArray<Label> jobs, string by, bool afterItsTime)
    {
        var entries = 0;
        foreach (var job in jobs)
        {
            var erased = ErasureStore.EraseText(turn, job);
            ErasureStore.ForgetLetters(turn, job);
            PublicLinkStore.RevokeMade(turn, job);
            entries += erased;
            if (turn.Intake(job) is { } intake && IntakeSheet.Read(intake.Text) is var sheet && sheet.Members.Remarks is not null)
            {
                turn.SaveIntake(job, (sheet with { Members = sheet.Members with { Remarks = null } }).Write(), sheet.Members.OwnNumber);
            }

            // Agenda rows quote what was written; they are written anew without it.
            turn.Refold(job);
            turn.Append([turn.Compose(
                StreamEntry.OfJob(job), new EventId(EventId.Service, $"customer.erased/{StreamEntry.OfJob(job)}/{customer}"),
                new CustomerErased { Customer = customer, Entries = erased, AfterItsTime = afterItsTime ? true : null },
                new Judged { Role = by })]);
        }

        // Whoever holds their letters sees nothing of the watch by them; addresses in letters to others are theirs.
        PublicLinkStore.RevokeInLettersTo(turn, customer);
        StorefrontCustomers.ForgetAllOf(turn, customer);
        ErasureStore.EraseCustomer(turn, customer);
        CustomerStore.ForgetHowToFind(turn, customer);
        return entries;
    }

    private static ErasedView Shown(string id, Instant at, ImmutableArray<Label> jobs, int entries, Language language) => new(
        id, at, jobs, entries, Phrase.Of("Name, ways to reach them and free text are gone. Days, work, measurements, amounts and warranty stay with the watch, as long as the law or a warranty asks for them.").In(language));

    private sealed record NeededView(Label Job, StillNeeded Why);
}
