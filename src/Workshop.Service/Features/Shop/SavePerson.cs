using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Shop;

/// <summary>
/// Saves somebody of the house. Whoever leaves keeps nothing: what they still hold is named, or goes to somebody or some place in the
/// same turn.
/// </summary>
public static class SavePerson
{
    public static async Task<Results<Seen<SavedDocument<PersonDocument>>, Made<SavedDocument<PersonDocument>>, ProblemHttpResult>> Handle(
        string id, JsonBody<PersonDocument> body, SeenOrNew seen, Caller caller, Writer writer, CancellationToken cancel) =>
        await writer.Turn(caller.Site, turn => Save(turn, id, body.Value, seen, caller), cancel);

    private static Results<Seen<SavedDocument<PersonDocument>>, Made<SavedDocument<PersonDocument>>, ProblemHttpResult> Save(
        Turn turn, string id, PersonDocument person, SeenOrNew seen, Caller caller)
    {
        if (SaveDocument.Refusal(turn, id, person, seen) is { } refusal)
        {
            return refusal;
        }

        if (person.LeftOn is not null && HoldingStore.Of(turn, $"people/{id}") is { Count: > 0 } held)
        {
            if (person.HandTo is not { } to)
            {
                return Problems.Of(
                    ProblemCatalogue.StillHolds, $"{held.Count} pieces are still with {id}; say handTo, or have them taken first.", ("pieces", held));
            }

            if (HandOn(turn, held, $"people/{id}", to, caller) is { } against)
            {
                return against;
            }
        }

        return SaveDocument.Save(turn, id, person, seen, caller);
    }

    // Asked about all of them first: what is refused for one leaves the others where they are.
    private static ProblemHttpResult? HandOn(Turn turn, IReadOnlyList<HeldPiece> held, string from, string to, Caller caller)
    {
        foreach (var piece in held)
        {
            var history = turn.History(Label.Read(piece.Job))!;
            var asked = JobTurn.Ask(
                turn, history,
                new Incoming { Id = new EventId(caller.Source, DeskCommand.NewId(turn)), Job = history.Job.Label, Event = Moved(piece, from, to), Effective = turn.Now, Received = turn.Now, Live = true },
                caller);
            if (asked.Outcome == Outcome.Refused)
            {
                return TypedResults.Problem(DeskCommand.Refusal(asked));
            }
        }

        foreach (var piece in held)
        {
            DeskCommand.Say(turn, turn.History(Label.Read(piece.Job))!, caller, Moved(piece, from, to));
        }

        return null;
    }

    private static PieceEvent Moved(HeldPiece piece, string from, string to) => to.StartsWith("people/", StringComparison.Ordinal)
        ? new PieceGiven { Piece = piece.Piece, From = from, To = to }
        : new PiecePut { Piece = piece.Piece, From = from, To = to };
}
