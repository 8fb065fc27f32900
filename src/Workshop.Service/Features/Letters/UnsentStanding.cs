using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Letters;

/// <summary>
/// Whether what could not be sent is still to be told: not what has passed, was said, or may not be said to them any more. What only mail
/// stands against is told by telephone all the same.
/// </summary>
internal static class UnsentStanding
{
    // Elapsed time after which it is looked at again: some reasons pass with time alone.
    private static readonly Duration AgainAfter = Duration.FromHours(1);

    /// <returns>When to look again, if anything is left; and whether something was settled.</returns>
    public static (Instant? Again, bool Settled) Look(Turn turn, Label job)
    {
        var parts = LetterStore.GivenUp(turn, job);
        if (parts.Count == 0)
        {
            return (null, false);
        }

        var subject = LetterSubject.Of(turn, job);
        var settled = 0;
        foreach (var part in parts)
        {
            var moment = Word.Read<LetterMoment>(part.Moment)!.Value;
            var occasion = subject?.Occasions.FirstOrDefault(one => one.Moment == moment && one.Occasion == part.Occasion);
            if (occasion is null || subject!.Read.Job.Letters.Has(moment, part.Occasion, part.Customer))
            {
                Settle(turn, part, occasion is null ? LetterDrop.Passed : LetterDrop.SaidOtherwise);
                settled++;
                continue;
            }

            var judged = LetterJudge.Of(occasion, subject.Read.Job, LetterReaders.Of(part.Customer, CustomerStore.Find(turn, part.Customer)), turn.Rules, turn.Now, begun: true);
            if (judged.Drop is { } drop && (occasion.Drop is not null || drop is LetterDrop.Deceased or LetterDrop.NoContact))
            {
                Settle(turn, part, drop);
                settled++;
            }
            else if (judged.Wait == LetterWait.Held)
            {
                // Nothing is said while the job is held; afterwards it is tried once more.
                var until = judged.Until ?? turn.Now + AgainAfter;
                LetterStore.Move(turn, part, LetterState.Wanted, turn.Rules.Calendar.DateOf(until), until);
                settled++;
            }
        }

        return (settled < parts.Count ? turn.Now + AgainAfter : null, settled > 0);
    }

    private static void Settle(Turn turn, StoredLetter part, LetterDrop why) =>
        LetterStore.Move(turn, part, LetterState.Dropped, turn.Rules.Calendar.DateOf(turn.Now), reason: Word.Of(why));
}
