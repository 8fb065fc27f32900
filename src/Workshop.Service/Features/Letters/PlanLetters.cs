using System.Text.Json;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Service.Features.Customers;
using Workshop.Service.Http.Answers;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Letters;

/// <summary>
/// Looks at the jobs whose moment has come and decides what is said now, by whom: one letter for each person, with all that is due to
/// them today. What the storefront says is handed over in the same turn; what the workshop says is to be sent.
/// </summary>
public sealed class PlanLetters(MailSettings mail)
{
    public const int JobsAtOnce = 64;

    // Elapsed time after which a watch that is expected is looked at again.
    private static readonly Duration ExpectedAgainAfter = Duration.FromHours(1);

    private bool CanSend => mail.Host is not null;

    /// <summary>A watch that is expected is looked at from now on.</summary>
    public static void FindExpected(Turn turn)
    {
        foreach (var expected in ExpectedWatches.WaitedFor(turn))
        {
            LetterStore.BeginToLookAt(turn, expected.Arrival.ToString());
        }
    }

    /// <summary>Looks at some of the jobs that are to be looked at.</summary>
    /// <returns>How many were looked at; none where nothing is due.</returns>
    public int Look(Turn turn) => Look(turn, LetterStore.ToLookAt(turn, JobsAtOnce));

    /// <summary>Looks at these jobs.</summary>
    public int Look(Turn turn, IReadOnlyList<Label> jobs)
    {
        var house = new LetterHouse(turn);
        var (going, settled) = (new List<Going>(), false);
        foreach (var job in jobs)
        {
            var (next, given) = (Judge(turn, job, going), UnsentStanding.Look(turn, job));
            LetterStore.LookAt(turn, job.ToString(), given.Again is { } again && (next is null || again < next) ? again : next);
            settled |= given.Settled;
        }

        if (settled)
        {
            HouseAgenda.Refresh(turn);
        }

        // Who has something to say of the same day to the same person: the workshop first, the storefront tomorrow.
        foreach (var person in going.GroupBy(one => one.Customer, StringComparer.Ordinal))
        {
            var first = person.GroupBy(one => one.Speaker).OrderBy(group => group.Key).First();
            Say(turn, house, first.Key, [.. first]);
            foreach (var later in person.Where(one => one.Speaker != first.Key).Select(one => one.Read.Job.Label).Distinct())
            {
                LetterStore.LookAt(turn, later.ToString(), Tomorrow(turn));
            }
        }

        return jobs.Count;
    }

    // When the job is next to be looked at; null where nothing is to come.
    private Instant? Judge(Turn turn, Label label, List<Going> going)
    {
        if (LetterSubject.Of(turn, label) is not { } subject)
        {
            return null;
        }

        // Of an order is told when a storefront tells it, and of no job.
        var read = subject.Read;
        Instant? next = subject.Expected ? turn.Now + ExpectedAgainAfter : null;
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        foreach (var one in subject.Occasions.Where(one => one.Drop is null))
        {
            var speaker = turn.Rules.Messages.SpeakerOf(one.Moment, CanSend, read.Job.Intake.Ordered is not null);
            if (speaker == LetterSpeaker.Nobody || (speaker == LetterSpeaker.Workshop && !CanSend))
            {
                continue;
            }

            foreach (var customer in LetterPlan.Readers(read.Job, one.Moment))
            {
                // What lies ahead is not asked about today.
                if (LetterJudge.DueFor(one, read.Job.Parties, customer, turn.Rules) is var due && due > turn.Now)
                {
                    next = next is { } known ? Instant.Min(known, due) : due;
                    continue;
                }

                var id = one.IdFor(label, customer, read.Job.Parties.Customer);
                if (read.Job.Letters.Has(one.Moment, one.Occasion, customer) || LetterStore.Find(turn, id) is not null)
                {
                    continue;
                }

                var reader = LetterReaders.Of(customer, CustomerStore.Find(turn, customer), LetterStore.IsWrittenTo(turn, customer, today, besides: "") ? today : null);
                var judged = LetterJudge.Of(one, read.Job, reader, turn.Rules, turn.Now);
                if (judged.Goes)
                {
                    going.Add(new Going(read, one, customer, speaker, id));
                }
                else if (judged.Until is { } until)
                {
                    next = next is { } known ? Instant.Min(known, until) : until;
                }
            }
        }

        return next;
    }

    private static void Say(Turn turn, LetterHouse house, LetterSpeaker speaker, IReadOnlyList<Going> parts)
    {
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var inOrder = parts.OrderBy(one => one.Occasion.Moment).ThenBy(one => one.Id, StringComparer.Ordinal).ToArray();
        var letter = inOrder[0].Id;
        foreach (var part in inOrder)
        {
            LetterStore.Put(turn, part.Id, letter, part.Read.Job.Label, part.Occasion, part.Customer, speaker, today);
        }

        if (speaker == LetterSpeaker.Storefront)
        {
            HandOver(turn, house, letter, inOrder);
        }
    }

    private static void HandOver(Turn turn, LetterHouse house, string letter, Going[] parts)
    {
        var reader = CustomerStore.Find(turn, parts[0].Customer)!;
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var made = MakeLetter.Of(house, reader, [.. parts.Select(part => new LetterParagraph(part.Read, part.Occasion))], today, LetterPages.Of(turn, letter));
        foreach (var part in parts)
        {
            Told(turn, part.Read.Job.Label, part.Occasion.Moment, part.Occasion.Occasion, part.Customer, LetterChannel.Storefront, letter, part.Id);
        }

        var (first, job) = (parts[0], parts[0].Read.Job);
        var stream = job.TakenIn ? StreamEntry.OfJob(job.Label) : $"arrival/{job.Label}";
        turn.Put(new OutboxMessage
        {
            Id = $"message.due/{stream.Split('/')[0]}/{letter}",
            Type = "message.due",
            Stream = stream,
            Storefront = job.Intake.Ordered?.Storefront,
            Body = JsonSerializer.Serialize(
                new MessageDue
                {
                    Job = job.TakenIn ? job.Label : null,
                    Arrival = job.TakenIn ? null : job.Label,
                    Order = job.Intake.Ordered?.Order,
                    Line = job.Intake.Ordered?.Line,
                    Version = job.Version,
                    At = turn.Now,
                    Letter = letter,
                    Moment = first.Occasion.Moment,
                    Also = [.. parts.Skip(1).Select(part => new AlsoSaid(part.Read.Job.Label, part.Occasion.Moment))],
                    To = reader.Email!,
                    Language = LanguageAsked.Tag(MakeLetter.LanguageOf(reader)),
                    Subject = made.Subject,
                    Text = made.Text,
                    Html = made.Html,
                    DropAfter = LetterJudge.At(today.PlusDays(1), turn.Rules.Messages.QuietUntil, turn.Rules),
                },
                WorkshopJson.Options),
        });
    }

    /// <summary>Writes into a job that something was said, once.</summary>
    internal static void Told(Turn turn, Label job, LetterMoment moment, string occasion, string customer, LetterChannel channel, string letter, string id)
    {
        // A watch that has not come has no journal; the table alone knows of its letters.
        if (job.Kind != LabelKind.Job || turn.History(job) is not { } history || history.Job.Letters.Has(moment, occasion, customer))
        {
            return;
        }

        var told = new CustomerTold { Moment = moment, Occasion = occasion, Customer = customer, Channel = channel, Letter = letter };
        turn.Append([turn.Compose(StreamEntry.OfJob(job), new EventId(EventId.Service, $"{EventCatalogue.TypeOf(told)}/{id}"), told, new Judged { Role = "service" })]);
    }

    private static Instant Tomorrow(Turn turn) => LetterJudge.At(turn.Rules.Calendar.DateOf(turn.Now).PlusDays(1), turn.Rules.Messages.QuietUntil, turn.Rules);

    private sealed record Going(LetterReading Read, LetterOccasion Occasion, string Customer, LetterSpeaker Speaker, string Id);
}

/// <summary>The data of <c>message.due</c>: a letter that the storefront is to send.</summary>
internal sealed record MessageDue
{
    public Label? Job { get; init; }

    /// <summary>For a watch that is expected.</summary>
    public Label? Arrival { get; init; }

    public string? Order { get; init; }

    public string? Line { get; init; }

    /// <summary>Of the job.</summary>
    public required long Version { get; init; }

    public required Instant At { get; init; }

    /// <summary>The letter's id; the same whenever it is told again.</summary>
    public required string Letter { get; init; }

    public required LetterMoment Moment { get; init; }

    /// <summary>What else the letter says.</summary>
    public IReadOnlyList<AlsoSaid> Also { get; init; } = [];

    /// <summary>An e-mail address.</summary>
    public required string To { get; init; }

    public required string Language { get; init; }

    public required string Subject { get; init; }

    public required string Text { get; init; }

    public required string Html { get; init; }

    public Instant? NotBefore { get; init; }

    /// <summary>What was not sent by then is no news.</summary>
    public required Instant DropAfter { get; init; }
}

/// <summary>Something else that a letter says.</summary>
internal sealed record AlsoSaid(Label Job, LetterMoment Moment);
