using NodaTime;
using Workshop.Core.Words;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Letters;
using Workshop.Service.Meters;
using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>
/// Finds what is to be said to customers by now and sends it. May run twice, late, or on two machines: what is said is decided in a turn,
/// and a letter on its way belongs to who took it.
/// </summary>
public sealed partial class SendLetters(IClock clock, AgendaStore sites, LetterStore store, PlanLetters plan, Mailer mailer, Writer writer, WorkshopMeters meters, ILogger<SendLetters> log)
{
    private const int EntriesAtOnce = 2_000;
    private const int LettersAtOnce = 50;

    // A journal of years that is read for the first time leaves something for the next round.
    private const int PagesInARound = 25;

    private static readonly Duration AgainAfter = Duration.FromHours(1);

    public async Task Run(CancellationToken cancel)
    {
        foreach (var site in await sites.Sites(cancel))
        {
            await Run(site, cancel);
        }
    }

    private async Task Run(string site, CancellationToken cancel)
    {
        await writer.Turn(site, PlanLetters.FindExpected, cancel);
        for (var page = 0; page < PagesInARound; page++)
        {
            var read = await writer.Turn(site, turn => LetterStore.Follow(turn, EntriesAtOnce), cancel);
            while (await Look(site, cancel) > 0)
            {
            }

            if (read < EntriesAtOnce)
            {
                break;
            }
        }

        if (!mailer.CanSend)
        {
            return;
        }

        foreach (var letter in await store.Waiting(site, clock.GetCurrentInstant(), LettersAtOnce, cancel))
        {
            try
            {
                await Send(site, letter, cancel);
            }
            catch (Exception failure) when (failure is not (OperationCanceledException or WriterBusyException or StorageUnavailableException))
            {
                // One letter that nobody can write keeps no other from being sent.
                CannotBeSent(failure, letter);
                await writer.Turn(site, turn => SendLetter.Failed(turn, letter), cancel);
            }
        }
    }

    // One job that nobody can look at must not keep all the others from being told of.
    private async Task<int> Look(string site, CancellationToken cancel)
    {
        try
        {
            return await writer.Turn(site, plan.Look, cancel);
        }
        catch (Exception failure) when (failure is not (OperationCanceledException or WriterBusyException or StorageUnavailableException))
        {
            LooksAtEach(failure);
        }

        var jobs = await writer.Turn(site, turn => LetterStore.ToLookAt(turn, PlanLetters.JobsAtOnce), cancel);
        foreach (var job in jobs)
        {
            try
            {
                await writer.Turn(site, turn => plan.Look(turn, [job]), cancel);
            }
            catch (Exception failure) when (failure is not (OperationCanceledException or WriterBusyException or StorageUnavailableException))
            {
                CannotBeLookedAt(failure, job.ToString());
                await writer.Turn(site, turn => LetterStore.LookAt(turn, job.ToString(), turn.Now + AgainAfter), cancel);
            }
        }

        return jobs.Count;
    }

    private async Task Send(string site, string letter, CancellationToken cancel)
    {
        if (await writer.Turn(site, turn => SendLetter.Take(turn, letter), cancel) is not { } outgoing)
        {
            return;
        }

        var outcome = await mailer.Send(outgoing, cancel);
        meters.Letter(Word.Of(outcome));
        await writer.Turn(
            site,
            turn =>
            {
                switch (outcome)
                {
                    case MailOutcome.Taken:
                        SendLetter.WasSaid(turn, letter);
                        break;
                    case MailOutcome.Refused:
                        SendLetter.CameBack(turn, letter, outgoing.Customer);
                        break;
                    default:
                        SendLetter.Failed(turn, letter);
                        break;
                }
            },
            CancellationToken.None);
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "Jobs could not be looked at together for letters; each is looked at alone.")]
    private partial void LooksAtEach(Exception failure);

    [LoggerMessage(Level = LogLevel.Error, Message = "Nobody can tell what is to be said of job {Job}; it is tried again in an hour.")]
    private partial void CannotBeLookedAt(Exception failure, string job);

    [LoggerMessage(Level = LogLevel.Error, Message = "Letter {Letter} cannot be sent; the others are.")]
    private partial void CannotBeSent(Exception failure, string letter);
}
