using Workshop.Core.House;
using Workshop.Core.Insurance;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Features.Shop;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>Holds a count of the safe against what is said to lie there, and writes what came of it into the stream of the house.</summary>
internal static class CompareSafe
{
    /// <summary>What names no watch and no piece of the house; pointers are into <c>data</c>.</summary>
    public static IEnumerable<Fault> Unknown(Turn turn, SafeCounted counted) =>
        UnknownIn(turn, "pieces", counted.Pieces).Concat(UnknownIn(turn, "missing", counted.Missing ?? []));

    public static SafeCompared Compare(Turn turn, SafeCounted counted) => SafeCount.Compare(
        [.. turn.Rules.Insurance.SafePlaces.SelectMany(place => HoldingStore.Of(turn, place)).Select(held => new SafePiece(held.Job, held.Piece))],
        [.. counted.Pieces.Select(text => Read(turn, text)!.Value).Distinct()],
        [.. (counted.Missing ?? []).Select(text => Read(turn, text)!.Value).Distinct()]);

    public static void Keep(Turn turn, Entry cause, SafeCompared compared)
    {
        turn.Append([turn.Compose(
            House.Stream, new EventId(EventId.Service, $"safe.compared/{House.Stream}/{cause.Id}"), compared,
            new Judged { Role = "service", Person = cause.Person }, cause.Effective, cause.Id, cause.Place.OrderSequence)]);
        HouseAgenda.Refresh(turn);
    }

    private static IEnumerable<Fault> UnknownIn(Turn turn, string member, IEnumerable<string> texts) =>
        texts.Index().Where(one => Read(turn, one.Item) is null).Select(one => new Fault($"/{member}/{one.Index}", Phrase.Of("This names no watch and no piece of the house.")));

    private static (string Job, string? Piece)? Read(Turn turn, string text)
    {
        var parts = text.Trim().Split('/');
        if (parts.Length > 2 || !Label.TryRead(parts[0], out var label) || turn.NamesOf(label.Value)?.Split('/') is not ["job", var job, .. var rest] || turn.History(Label.Read(job)) is not { Job: var found })
        {
            return null;
        }

        var piece = parts is [_, var named] ? named : rest is [var own] ? own : null;
        return piece is null || found.Pieces.Pieces.Any(one => one.Id == piece) ? (job, piece) : null;
    }
}
