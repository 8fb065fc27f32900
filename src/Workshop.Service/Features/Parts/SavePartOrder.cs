using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Parts;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;
using Workshop.Service.Storage.Stock;

namespace Workshop.Service.Features.Parts;

/// <summary>
/// Writes an order down, whole. In the same turn every watch that waits for a line is told what it waits for now: a day that slips moves
/// its forecast, never its promise.
/// </summary>
public static class SavePartOrder
{
    public static async Task<Results<Seen<PartOrderView>, Made<PartOrderView>, ProblemHttpResult>> Handle(
        string id, JsonBody<PartOrderDocument> body, SeenOrNew seen, Caller caller, Writer writer, Reader reader, CancellationToken cancel)
    {
        var (version, refusal) = await writer.Turn(caller.Site, turn => Save(turn, id, body.Value, seen, caller), cancel);
        if (refusal is not null)
        {
            return refusal;
        }

        var view = (await ReadPartOrders.Find(reader, caller.Site, id, cancel))!;
        return version == 1 ? Answer.Made($"/v1/part-orders/{id}", version, view) : Answer.Seen(version, view);
    }

    private static (long Version, ProblemHttpResult? Refusal) Save(Turn turn, string id, PartOrderDocument order, SeenOrNew seen, Caller caller)
    {
        if (!DocumentCheck.IsId(id))
        {
            return (0, Problems.BadFields(new Fault("/id", "An id is of lower case letters, digits and hyphens, at most 60")));
        }

        var before = StockTable.Newest(turn, StockTable.Order, id);
        if (seen.RefusalUnless(before?.Version) is { } unseen)
        {
            return (0, unseen);
        }

        // A line for a watch that has left since may stay as it was.
        var known = before?.Read<PartOrderDocument>();
        var faults = order.Faults(
            id, turn.Rules.Calendar.DateOf(turn.Now), part => StockTable.Newest(turn, StockTable.Part, part) is not null,
            job => IsInHouse(turn, job) || known?.Awaited().Keys.Any(one => one.Job == job.ToString()) == true).ToArray();
        if (faults.Length > 0)
        {
            return (0, Problems.BadFields(faults));
        }

        return (Keep(turn, id, order, caller), null);
    }

    /// <summary>Saves an order that was found to be right, and tells the watches that wait for it.</summary>
    /// <returns>Its version.</returns>
    internal static long Keep(Turn turn, string id, PartOrderDocument order, Caller caller)
    {
        var known = StockTable.Newest(turn, StockTable.Order, id)?.Read<PartOrderDocument>();
        var (saved, said) = StockTable.Put(turn, StockTable.Order, id, JsonSerializer.Serialize(order, WorkshopJson.Stored), caller.Source);
        Tell(turn, id, known, order, said, caller);
        return saved.Version;
    }

    private static bool IsInHouse(Turn turn, Label job) => turn.History(job)?.Job is { TakenIn: true, Standings.HandedOver: false };

    private static void Tell(Turn turn, string id, PartOrderDocument? before, PartOrderDocument after, Entry cause, Caller caller)
    {
        var (was, now) = (before?.Awaited() ?? [], after.Awaited());
        foreach (var (job, part) in was.Keys.Union(now.Keys).OrderBy(key => key.Job, StringComparer.Ordinal).ThenBy(key => key.Part, StringComparer.Ordinal))
        {
            var (old, wanted) = (was.GetValueOrDefault((job, part)), now.GetValueOrDefault((job, part)));
            var label = Label.Read(job);
            if (old == wanted || !IsInHouse(turn, label))
            {
                continue;
            }

            turn.Append([turn.Compose(
                StreamEntry.OfJob(label),
                new EventId(EventId.Service, $"part.expected/{StreamEntry.OfJob(label)}/{part}/{cause.Id}"),
                new PartExpected
                {
                    Part = part,
                    Order = id,
                    Count = wanted.Count,
                    ExpectedOn = wanted.On,
                    Was = old.On,
                    Essential = StockTable.StockOf(turn, part)?.Essential == true,
                },
                new Judged { Role = Word.Of(caller.Role) },
                causedBy: cause.Id)]);
            turn.Outside.Look(turn, label);
        }
    }
}
