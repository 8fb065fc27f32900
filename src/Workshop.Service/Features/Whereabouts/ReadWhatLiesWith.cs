using System.Collections.Immutable;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Whereabouts;

/// <summary>What lies with somebody of the house, and at the bench where they sit.</summary>
/// <param name="Person">The short name.</param>
public sealed record LiesWithView(string Person, ImmutableArray<LyingPiece> Pieces);

/// <param name="Holder">The person, their bench, or where a piece lies that they are at.</param>
/// <param name="Stage">The stage that is open on it; absent where none is.</param>
/// <param name="MayBeTouched">Others may go on with it. Common practice.</param>
/// <param name="Why">In words.</param>
/// <param name="GivenTo">Given on, and not taken yet.</param>
public sealed record LyingPiece(Label Job, string Piece, PieceKind Kind, string Holder, Instant Since, Stage? Stage, bool MayBeTouched, string Why, string? GivenTo);

/// <summary>
/// For the day on which somebody is away: what they have in hand, what lies at their bench, and what they are at wherever it lies, each with
/// whether others may go on with it.
/// </summary>
public static class ReadWhatLiesWith
{
    public static async Task<Results<Done<LiesWithView>, ProblemHttpResult>> Handle(
        string id, Caller caller, LanguageAsked language, Reader reader, CancellationToken cancel)
    {
        var (person, watches) = await reader.Read(
            connection => (ShopDocuments.Newest(connection, caller.Site, ShopRulesReader.People, id), WhereaboutsStore.InHouse(connection, caller.Site)), cancel);
        if (person is null)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "Nobody of the house has this short name.");
        }

        var bench = JsonSerializer.Deserialize<PersonDocument>(person.Document, WorkshopJson.Options)!.Bench;
        return Answer.Done(new LiesWithView(id,
        [
            .. from watch in watches
               from piece in watch.Job.Pieces.Pieces
               let stage = Touching.OpenOn(watch.Job, piece)
               let isAtIt = stage is { } open && watch.Job.Standings.Of(open).At.Contains(id)
               where piece.Holder == $"people/{id}" || (bench is not null && piece.Holder == $"benches/{bench}") || (isAtIt && piece.IsHome)
               let touch = Touching.Of(watch.Job, piece)
               select new LyingPiece(watch.Job.Label, piece.Id, piece.Kind, piece.Holder, piece.Since, stage, touch.May, touch.Why.In(language.Best), piece.GivenTo),
        ]));
    }
}
