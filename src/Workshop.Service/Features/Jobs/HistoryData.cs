using System.Collections.Frozen;
using System.Text.Json;
using System.Text.Json.Nodes;
using Workshop.Core.Holds;
using Workshop.Core.Words;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>
/// The data of an entry as a role may read it. Entries with amounts or a customer's words in them are shown to the others by a list
/// of the members they may see; what is added to such an event is hidden until it is added here.
/// </summary>
public static class HistoryData
{
    private static readonly FrozenDictionary<string, string[]> WithoutNamesAndAmounts = new Dictionary<string, string[]>
    {
        ["job.taken-in"] = ["variant", "caseSerial", "movementNumber", "missing", "counted", "hazards", "at", "fixedDate", "polish", "warrantyOf"],
        ["piece.given"] = ["piece", "kind", "from", "to", "expectedBack", "note", "bench", "person", "despite", "already", "insteadOf"],
        ["customer.told"] = ["moment", "occasion", "channel"],
        ["letter.released"] = ["number", "moment"],
        ["parties.changed"] = [],
        ["party.standing-told"] = [],
        ["quote.sent"] = ["version", "validThrough", "workingDays"],
        ["quote.answered"] = ["version", "accepted"],
        ["payment.recorded"] = ["payment"],
        ["payment.corrected"] = ["payment"],
        ["account.changed"] = [],
        ["job.handed-over"] = ["how", "pieces", "on"],
        ["wear.reported"] = ["report", "reportedOn", "amount", "unit", "direction", "overDays", "stopped", "dateRight", "wornByNight", "nightPosition", "sport", "nearMagnets"],
        ["wear-report.answered"] = ["report", "answer"],
        ["claim.reported"] = ["claim", "reportedOn", "receivedOn"],
        ["claim.decided"] = ["claim", "covered", "lines"],
        ["quote.price-changed"] = ["version", "line", "borne"],
        ["dispute.opened"] = ["dispute", "claim"],
        ["dispute.closed"] = ["dispute", "outcome"],
        ["shipment.sent"] = ["shipment", "direction", "pieces"],
        ["shipment.lost"] = ["shipment"],
    }.ToFrozenDictionary(StringComparer.Ordinal);

    private static readonly string[] OfAHiddenHold = ["hold", "bench", "person"];

    public static JsonElement Of(string type, string data, Caller caller)
    {
        var seesAll = caller.MaySee(Sight.Names) && caller.MaySee(Sight.Amounts);
        if (!seesAll && WithoutNamesAndAmounts.TryGetValue(type, out var members))
        {
            return Only(Read(data), members);
        }

        if (!LegalHolds.Shown(caller.Role) && type is ("hold.placed" or "hold.lifted") && Read(data) is var hold && hold["hold"]?.ToString() == Word.Of(HoldReason.Legal))
        {
            hold["hold"] = Word.Of(HoldReason.Query);
            return Only(hold, OfAHiddenHold);
        }

        using var document = JsonDocument.Parse(data);
        return document.RootElement.Clone();
    }

    private static JsonElement Only(JsonObject data, string[] members)
    {
        var shown = new JsonObject();
        foreach (var member in members)
        {
            if (data[member] is { } value)
            {
                shown[member] = value.DeepClone();
            }
        }

        return JsonSerializer.SerializeToElement(shown, WorkshopJson.Options);
    }

    private static JsonObject Read(string data) => JsonNode.Parse(data)!.AsObject();
}
