using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Journal;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;
using Workshop.Service.Storage.Stock;

namespace Workshop.Service.Features.Parts;

/// <summary>Writes a part down, whole. A new count of the shelf says when it was counted; without one the last count stands, and what came and went since.</summary>
public static class SavePart
{
    public static async Task<Results<Seen<PartView>, Made<PartView>, ProblemHttpResult>> Handle(
        string id, JsonBody<PartDocument> body, SeenOrNew seen, Caller caller, Writer writer, CancellationToken cancel) =>
        await writer.Turn(caller.Site, turn => Save(turn, id, body.Value, seen, caller), cancel);

    private static Results<Seen<PartView>, Made<PartView>, ProblemHttpResult> Save(Turn turn, string id, PartDocument part, SeenOrNew seen, Caller caller)
    {
        if (!DocumentCheck.IsId(id))
        {
            return Problems.BadFields(new Fault("/id", "An id is of lower case letters, digits and hyphens, at most 60"));
        }

        if (seen.RefusalUnless(StockTable.Newest(turn, StockTable.Part, id)?.Version) is { } unseen)
        {
            return unseen;
        }

        if (part.Faults(id, turn.Now, other => StockTable.Newest(turn, StockTable.Part, other) is not null).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var (saved, _) = StockTable.Put(turn, StockTable.Part, id, JsonSerializer.Serialize(part, WorkshopJson.Stored), caller.Source);
        var view = PartView.Of(saved, StockTable.StockOf(turn, id)!);
        return saved.Version == 1 ? Answer.Made($"/v1/parts/{id}", saved.Version, view) : Answer.Seen(saved.Version, view);
    }
}
