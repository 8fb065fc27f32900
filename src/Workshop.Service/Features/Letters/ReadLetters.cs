using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Letters;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Letters;

/// <summary>What was said about a job, what is due, and what was let fall and why.</summary>
public static class ReadLetters
{
    public static async Task<Results<Seen<LettersView>, ProblemHttpResult>> Handle(
        string label, Caller caller, Reader reader, ShopRulesSource source, MailSettings mail, IClock clock, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (await reader.History(caller.Site, job, cancel) is not { Job.TakenIn: true } history)
        {
            return PathLabel.NoJob();
        }

        var (rules, now) = (await source.Read(caller.Site, cancel), clock.GetCurrentInstant());
        var view = await reader.Read(
            connection =>
            {
                var kept = LetterStore.Of(connection, caller.Site, job).ToDictionary(one => one.Id, StringComparer.Ordinal);
                var readers = new Dictionary<string, LetterReader>(StringComparer.Ordinal);
                LetterReader ReaderOf(string id) => readers.TryGetValue(id, out var known) ? known : readers[id] = LetterReaders.Of(id, CustomerStore.Find(connection, caller.Site, id));
                return Of(LetterReading.Of(connection, caller.Site, history, rules), kept, ReaderOf, mail.Host is not null, now);
            },
            cancel);
        return Answer.Seen(history.Job.Version, view);
    }

    private static LettersView Of(LetterReading read, Dictionary<string, StoredLetter> kept, Func<string, LetterReader> readerOf, bool canSend, Instant now)
    {
        var (job, rules) = (read.Job, read.Rules);
        var items = new List<LetterView>();
        foreach (var one in read.Occasions(now))
        {
            var speaker = rules.Messages.SpeakerOf(one.Moment, canSend, job.Intake.Ordered is not null);
            foreach (var customer in LetterPlan.Readers(job, one.Moment))
            {
                var id = one.IdFor(job.Label, customer, job.Parties.Customer);
                kept.Remove(id, out var stored);
                items.Add(Of(one, id, customer, speaker, stored, job, rules, readerOf, now));
            }
        }

        // What was said of something that has been corrected since was said all the same.
        items.AddRange(kept.Values.Select(stored => Of(stored)));
        return new LettersView(job.Label, [.. items.OrderBy(item => item.Due).ThenBy(item => item.Moment).ThenBy(item => item.Id, StringComparer.Ordinal)]);
    }

    private static LetterView Of(
        LetterOccasion one, string id, string customer, LetterSpeaker speaker, StoredLetter? stored, Job job, ShopRules rules, Func<string, LetterReader> readerOf, Instant now)
    {
        var view = new LetterView(id, one.Moment, one.Occasion, customer, speaker, one.Due, LetterStanding.Waiting, null, null, null, null, stored?.Letter, null, stored?.Attempts);
        if (job.Letters.Said.FirstOrDefault(known => known.Moment == one.Moment && known.Occasion == one.Occasion && known.Customer == customer) is { } said)
        {
            return view with { Standing = LetterStanding.Said, Channel = said.Channel, Letter = said.Letter, SaidAt = said.At };
        }

        if (stored is not null && Over(stored) is { } over)
        {
            return view with { Standing = over, Drop = stored.Reason is { } reason ? Word.Read<LetterDrop>(reason) : null };
        }

        if (speaker == LetterSpeaker.Nobody)
        {
            return view with { Standing = LetterStanding.Dropped, Drop = LetterDrop.NobodyWrites };
        }

        var judged = LetterJudge.Of(one, job, readerOf(customer), rules, now, begun: stored is not null);
        return judged.Drop is { } drop ? view with { Standing = LetterStanding.Dropped, Drop = drop }
            : judged.Wait is { } wait ? view with { Wait = wait, Until = judged.Until }
            : view with { Standing = LetterStanding.Going };
    }

    private static LetterView Of(StoredLetter stored) => new(
        stored.Id, Word.Read<LetterMoment>(stored.Moment)!.Value, stored.Occasion, stored.Customer, Word.Read<LetterSpeaker>(stored.Speaker)!.Value,
        Microseconds.Read(stored.SaidAt ?? stored.NextAttempt ?? 0), Over(stored) ?? LetterStanding.Waiting, stored.Reason is { } reason ? Word.Read<LetterDrop>(reason) : null, null, null, null,
        stored.Letter, stored.SaidAt is { } at ? Microseconds.Read(at) : null, stored.Attempts);

    private static LetterStanding? Over(StoredLetter stored) => Word.Read<LetterState>(stored.State) switch
    {
        LetterState.Said => LetterStanding.Said,
        LetterState.Dropped => LetterStanding.Dropped,
        LetterState.Returned => LetterStanding.Returned,
        _ => null,
    };
}
