using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Meters;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>The one door for everything a bench says: one event, or a batch.</summary>
public static class PostBenchEvents
{
    /// <summary>Events of a large batch share the writer with others: so many in one turn.</summary>
    private const int EventsInATurn = 64;

    /// <param name="ask">What would be said is answered and nothing is kept; of a batch each event by itself, as if it came alone.</param>
    public static async Task<Results<EventAnswer, ProblemHttpResult>> Handle(
        CloudEventsBody body, Caller caller, LanguageAsked language, SentAt sentAt, Writer writer, HeldEvents held, HearProofs proofs, EventSettings settings, WorkshopMeters meters,
        CancellationToken cancel, bool ask = false)
    {
        if (body.Events.FirstOrDefault(read => read.Source is { } source && source != caller.Source) is { } foreign)
        {
            return Problems.Of(ProblemCatalogue.SourceNotYours, $"This key speaks for '{caller.Source}', not for '{foreign.Source}'.", ("source", caller.Source));
        }

        // Read before the turn: at the writer everybody else is waiting.
        var said = body.Events.Select(envelope => SaidEvent.Of(envelope, language.Best)).ToArray();
        var verdicts = new Verdict[said.Length];
        Post? post = null;

        // Judged in the order of the device's own numbers, answered in the order given.
        var order = Enumerable.Range(0, said.Length).OrderBy(i => said[i].Envelope.Sequence ?? long.MaxValue).ToArray();
        await proofs.Compare(said, order, caller, cancel);
        foreach (var chunk in order.Chunk(EventsInATurn))
        {
            var (judged, by) = await writer.Turn(caller.Site, turn =>
            {
                var received = post ?? Receive(turn, caller, held.HoldUntil(settings), sentAt, ask);
                return (chunk.Select(i => HearEvent.Hear(turn, said[i], received, settings)).ToArray(), received);
            }, cancel);
            post = by;
            foreach (var (i, verdict) in chunk.Zip(judged))
            {
                verdicts[i] = verdict;
            }
        }

        if (!ask)
        {
            foreach (var verdict in verdicts)
            {
                meters.Received(Word.Of(verdict.Result.Outcome));
            }
        }

        // Committed by now: whoever releases what is held may look.
        held.Look(verdicts.Select(verdict => verdict.LookAgainAt));
        return body.IsBatch ? EventAnswer.Batch(verdicts) : EventAnswer.One(verdicts[0]);
    }

    /// <summary>A post has come: what its device's clock shows is learned once.</summary>
    internal static Post Receive(Turn turn, Caller caller, Instant holdUntil, SentAt? sentAt = null, bool ask = false)
    {
        var stepped = false;
        if (!ask)
        {
            var source = turn.Source(caller.Source);
            var clock = source.Clock;
            if (sentAt?.Shown is { } shown)
            {
                (clock, stepped) = clock.Hear(turn.Now, Microseconds.Truncated(shown));
            }

            turn.SaveSource(source with { Clock = clock, Heard = turn.Now });
        }

        return new Post { Caller = caller, Received = turn.Now, HoldUntil = holdUntil, ClockStepped = stepped, Ask = ask };
    }
}
