using NodaTime;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.Letters;
using Workshop.Service.Storage;

namespace Workshop.Service.Tasks;

/// <summary>
/// Finds what is to be said to customers by now and sends it. May run twice, late, or on two machines: what is said is decided in a turn,
/// and a letter on its way belongs to who took it.
/// </summary>
public sealed partial class SendLetters(IClock clock, AgendaStore sites, LetterStore store, PlanLetters plan, Mailer mailer, Writer writer, ILogger<SendLetters> log)
{
    private const int EntriesAtOnce = 2_000;
    private const int LettersAtOnce = 50;

    // A journal of years that is read for the first time leaves something for the next round.
    private const int PagesInARound = 25;

    public async Task Run(CancellationToken cancel)
    {
        foreach (var site in await sites.Sites(cancel))
        {
            await Run(site, cancel);
        }
    }

    private async Task Run(string site, CancellationToken cancel)
    {
        for (var page = 0; page < PagesInARound; page++)
        {
            var read = await writer.Turn(site, turn => LetterStore.Follow(turn, EntriesAtOnce), cancel);
            while (await writer.Turn(site, plan.Look, cancel) > 0)
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

    private async Task Send(string site, string letter, CancellationToken cancel)
    {
        if (await writer.Turn(site, turn => SendLetter.Take(turn, letter), cancel) is not { } outgoing)
        {
            return;
        }

        var outcome = await mailer.Send(outgoing, cancel);
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

    [LoggerMessage(Level = LogLevel.Error, Message = "Letter {Letter} cannot be sent; the others are.")]
    private partial void CannotBeSent(Exception failure, string letter);
}
