using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.People;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.People;

/// <summary>Whose word an event is, and whether they have proved it.</summary>
public static class SaidBy
{
    /// <summary>The event with the person who was signed on at its source, at its own place, where it names nobody itself.</summary>
    public static Incoming Named(Turn turn, Incoming incoming) =>
        incoming.Manner.Person is null && incoming.Id.Source != EventId.Service && SignedOnAt(turn, incoming) is { } one
            ? incoming with { Manner = incoming.Manner with { Person = one.Person } }
            : incoming;

    /// <summary>The person behind the badge, or whoever was signed on at the source at that place; null where nobody is known.</summary>
    public static string? Person(Turn turn, EventId id, string? badge, Instant effective, long orderSequence) =>
        badge is null ? turn.SignedOn(id.Source, effective, orderSequence)?.Person : turn.Rules.PersonBehind(badge)?.Id ?? badge;

    /// <summary>
    /// What came of asking who it is: the number told with the event now, or when it came and was held back, or when the same person
    /// signed on at the place. Nobody is asked before anybody in the shop has a number.
    /// </summary>
    /// <param name="person">The person behind the badge.</param>
    public static Proof Proven(Turn turn, Incoming incoming, string? person, string role) =>
        !ProofRules.AskOf(incoming.Event, role) || !ProofStore.Any(turn) ? Proof.NotNeeded
        : person is null ? Proof.Missing
        : incoming.Proof == Proof.Right || ProvenBySigningOn(turn, incoming, person) || ProofStore.WasHeard(turn, incoming.Id, person) ? Proof.Right
        : incoming.Proof;

    private static bool ProvenBySigningOn(Turn turn, Incoming incoming, string person) =>
        SignedOnAt(turn, incoming) is { Proof: { } given } one && one.Person == person && ProofStore.Given(turn, person) == given;

    private static SignedOn? SignedOnAt(Turn turn, Incoming incoming) => turn.SignedOn(incoming.Id.Source, incoming.Effective, incoming.OrderSequence);
}
