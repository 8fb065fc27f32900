using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Core.Parties;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Letters;

/// <summary>A letter that goes out now.</summary>
/// <param name="Id">The same whenever it is sent again.</param>
public sealed record OutgoingLetter(string Id, string Customer, string Name, string To, string Language, MadeLetter Made);

/// <summary>
/// The turns round a letter's way to the mail server. What it says is judged once more before it goes; while it is on its way it stands
/// as such, so that a process that dies leaves it to be sent again under the same id, and never forgotten.
/// </summary>
public static class SendLetter
{
    /// <summary>After this time a letter that is still on its way has lost its process.</summary>
    public static readonly Duration TakenOverAfter = Duration.FromMinutes(10);

    // Elapsed time between attempts; the last one again and again.
    private static readonly Duration[] Pauses = [Duration.FromMinutes(2), Duration.FromMinutes(10), Duration.FromHours(1), Duration.FromHours(4), Duration.FromHours(12)];

    private const int AttemptsAtMost = 12;

    /// <summary>Takes a letter to be sent; null where nothing of it goes now.</summary>
    public static OutgoingLetter? Take(Turn turn, string letter)
    {
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var going = new List<(StoredLetter Part, LetterParagraph Paragraph)>();
        var parts = LetterStore.Together(turn, letter).Where(part => part.NextAttempt <= Microseconds.Of(turn.Now)).ToArray();
        foreach (var part in parts)
        {
            if (Judge(turn, part, today) is { } paragraph)
            {
                going.Add((part, paragraph));
            }
        }

        if (going.Count == 0 || CustomerStore.Find(turn, going[0].Part.Customer) is not { Email: { } to } reader)
        {
            return null;
        }

        foreach (var (part, _) in going)
        {
            LetterStore.Move(turn, part, LetterState.Sending, today, turn.Now + TakenOverAfter, attempts: 1);
        }

        var made = MakeLetter.Of(new LetterHouse(turn), reader, [.. going.Select(one => one.Paragraph)], today, LetterPages.Of(turn, letter));
        return new OutgoingLetter(letter, reader.Id, reader.Name, to, Http.Answers.LanguageAsked.Tag(MakeLetter.LanguageOf(reader)), made);
    }

    /// <summary>The mail server has it.</summary>
    public static void WasSaid(Turn turn, string letter)
    {
        foreach (var part in Sending(turn, letter))
        {
            LetterStore.Move(turn, part, LetterState.Said, turn.Rules.Calendar.DateOf(turn.Now));
            PlanLetters.Told(turn, Label.Read(part.Job), Word.Read<LetterMoment>(part.Moment)!.Value, part.Occasion, part.Customer, LetterChannel.Email, letter, part.Id);
        }
    }

    /// <summary>The mail server will not have it for this address: nothing goes there any more until somebody says another.</summary>
    public static void CameBack(Turn turn, string letter, string customer)
    {
        foreach (var part in Sending(turn, letter))
        {
            LetterStore.Move(turn, part, LetterState.Returned, turn.Rules.Calendar.DateOf(turn.Now), reason: Word.Of(LetterDrop.CameBack));
        }

        if (CustomerStore.Find(turn, customer) is { } before && !before.ReadUnreachable().Contains(PartyWay.Email))
        {
            CustomerStore.SetUnreachable(turn, customer, [.. before.ReadUnreachable(), PartyWay.Email]);
            PartyStandings.TellJobs(turn, before, CustomerStore.Find(turn, customer)!);
        }
    }

    /// <summary>It could not be sent now; after its last attempt somebody is to be told otherwise.</summary>
    public static void Failed(Turn turn, string letter)
    {
        var (today, givenUp) = (turn.Rules.Calendar.DateOf(turn.Now), false);
        foreach (var part in Sending(turn, letter))
        {
            if (part.Attempts >= AttemptsAtMost)
            {
                // From now on it is looked at whether it still is to be said.
                LetterStore.Move(turn, part, LetterState.Dropped, today, reason: Word.Of(LetterDrop.GivenUp), givenUp: true);
                LetterStore.LookAt(turn, part.Job, turn.Now);
                givenUp = true;
            }
            else
            {
                LetterStore.Move(turn, part, LetterState.Wanted, today, turn.Now + Pauses[Math.Min((int)part.Attempts, Pauses.Length) - 1]);
            }
        }

        if (givenUp)
        {
            HouseAgenda.Refresh(turn);
        }
    }

    private static IEnumerable<StoredLetter> Sending(Turn turn, string letter) => LetterStore.Together(turn, letter).Where(part => part.State == Word.Of(LetterState.Sending));

    // What speaks against it by now ends it; what only makes it wait puts it off.
    private static LetterParagraph? Judge(Turn turn, StoredLetter part, LocalDate today)
    {
        var moment = Word.Read<LetterMoment>(part.Moment)!.Value;
        if (LetterSubject.Of(turn, Label.Read(part.Job)) is not { Read: var read } subject
            || subject.Occasions.FirstOrDefault(one => one.Moment == moment && one.Occasion == part.Occasion) is not { } occasion)
        {
            LetterStore.Move(turn, part, LetterState.Dropped, today, reason: Word.Of(LetterDrop.Passed));
            return null;
        }

        var reader = LetterReaders.Of(part.Customer, CustomerStore.Find(turn, part.Customer), LetterStore.IsWrittenTo(turn, part.Customer, today, besides: part.Letter) ? today : null);
        var judged = LetterJudge.Of(occasion, read.Job, reader, turn.Rules, turn.Now, begun: true);
        if (judged.Drop is { } drop)
        {
            LetterStore.Move(turn, part, LetterState.Dropped, today, reason: Word.Of(drop));
            return null;
        }

        if (judged.Wait is not null)
        {
            var until = judged.Until ?? turn.Now + TakenOverAfter;
            LetterStore.Move(turn, part, LetterState.Wanted, turn.Rules.Calendar.DateOf(until), until);
            return null;
        }

        return new LetterParagraph(read, occasion);
    }
}
