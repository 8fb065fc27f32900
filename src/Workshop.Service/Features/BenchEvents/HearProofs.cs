using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.People;
using Workshop.Core.Words;
using Workshop.Service.Features.People;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>
/// Compares the numbers that came with a post, before its turn, and settles them in the turn. A number is looked at only where it
/// decides something: nobody learns by the way whether one is right.
/// </summary>
public sealed class HearProofs(CheckProofs proofs, ShopRulesSource source, Reader reader, IClock clock)
{
    /// <summary>The same events with what the comparison of their numbers gave.</summary>
    /// <param name="order">In which order they will be judged: who signs on in a batch is there for what follows.</param>
    internal async Task Compare(SaidEvent[] said, IEnumerable<int> order, Caller caller, CancellationToken cancel)
    {
        if (said.All(one => one.Envelope.Event?.Proof is null))
        {
            return;
        }

        var rules = await source.Read(caller.Site, cancel);
        var comparing = proofs.Begin(caller.Site);
        string? signedOn = null;
        foreach (var i in order)
        {
            if (said[i] is not { Envelope.Event: { } one, Data: { Event: { } told, Manner: var manner } })
            {
                continue;
            }

            var named = rules.PersonBehind(manner.Person)?.Id ?? manner.Person;
            if (one.Proof?.Digits is { } digits && DecidesSomething(told, caller)
                && (named ?? signedOn ?? await SignedOnAt(caller, one, cancel)) is { } person
                && await comparing.With(person, digits, cancel) is { } proof)
            {
                said[i] = said[i] with { Proof = proof };
            }

            signedOn = told is PersonSignedOn ? named : told is PersonSignedOff ? null : signedOn;
        }
    }

    /// <summary>What came of the number told with an event. Asking beforehand tells nobody: a try that is not counted would be a way to guess.</summary>
    internal static Proof Settle(Turn turn, SaidEvent said, Post post)
    {
        if (post.Ask || said is not { Envelope.Event: { } one, Data.Event: { } told } || !DecidesSomething(told, post.Caller))
        {
            return Proof.Missing;
        }

        // The number of somebody who has none is not theirs either.
        var came = ProofStore.Settle(turn, said.Proof, IdOf(one));
        return came == Proof.Missing && one.Proof is not null ? Proof.Wrong : came;
    }

    /// <summary>Settles the number of an event that has to wait: when it is judged, the number is known to nobody any more.</summary>
    internal static void SettleBeforeWaiting(Turn turn, SaidEvent said, Post post)
    {
        if (said is { Proof: { } told, Envelope.Event: { } one, Data.Event: { } data } && WhoMayPost.May(post.Caller.Role, data) && Settle(turn, said, post) == Proof.Right)
        {
            ProofStore.KeepHeard(turn, IdOf(one), told);
        }
    }

    private static EventId IdOf(CloudEvent one) => new(one.Source, one.Id);

    private static bool DecidesSomething(WorkshopEvent told, Caller caller) =>
        told is PersonSignedOn || ProofRules.AskOf(told, Word.Of(caller.Role));

    private async Task<string?> SignedOnAt(Caller caller, CloudEvent one, CancellationToken cancel)
    {
        // By the event's own time where somebody was there then; a clock that is wrong leads to whoever is there now.
        var now = clock.GetCurrentInstant();
        var then = one.Time?.ToInstant() is { } told && told < now ? told : now;
        return (await reader.SignedOn(caller.Site, caller.Source, then, cancel) ?? await reader.SignedOn(caller.Site, caller.Source, now, cancel))?.Person;
    }
}
