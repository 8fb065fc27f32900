using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;
using Workshop.Core.Trials;
using Workshop.Core.Words;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>
/// Positions told by a symbol of ISO 3158 or a word of the shop's own. The journal keeps where the crown pointed, and beside it what was
/// told: what a word means may change, and what a mark means rests on where the crown of this watch sits.
/// </summary>
internal static class PositionsTold
{
    private const string Member = "position";
    private const string AsTold = "toldPosition";
    private const string Readings = "readings";

    /// <summary>The event with its positions read; unchanged where they were told plainly. A word that names none is a fault.</summary>
    public static (SaidEvent Said, CloudEvent One) Read(Turn turn, SaidEvent said, CloudEvent one, JobHistory? history)
    {
        var type = EventCatalogue.RecordOf(one.Type);
        if ((type != typeof(RateSetRecorded) && type != typeof(TrialDayRecorded)) || Parsed(one.Data) is not { } data)
        {
            return (said, one);
        }

        var told = Told(data).Where(place => Word.Read<Position>(place.Word) is null).ToArray();
        if (told.Length == 0)
        {
            return (said, one);
        }

        var aliases = turn.Rules.Timekeeping.PositionAliases;
        var crownHour = (history is null ? null : CalibreOfJob.Find(turn, history.Job).CrownHour) ?? ControlPosition.UsualCrownHour;
        var unknown = ImmutableArray.CreateBuilder<Fault>();
        foreach (var (holder, pointer, word) in told)
        {
            if (PositionWords.Read(word, aliases, crownHour) is { } read)
            {
                holder[Member] = Word.Of(read.Position);
                holder[AsTold] = word;
            }
            else
            {
                unknown.Add(new Fault(pointer, Phrase.Of("'{0}' is no position here. Known are: {1}.", word, new Series([.. PositionWords.Known(aliases)]))));
            }
        }

        var text = data.ToJsonString(WorkshopJson.Stored);
        var reading = EventCodec.Read(one.Type, text);
        return unknown.Count > 0
            ? (said with { Data = reading with { Event = null, Faults = [.. unknown, .. reading.Faults.Where(fault => !fault.Pointer.EndsWith($"/{Member}", StringComparison.Ordinal))] } }, one)
            : (said with { Data = reading }, one with { Data = text });
    }

    private static IEnumerable<(JsonObject Holder, string Pointer, string Word)> Told(JsonObject data)
    {
        if (WordIn(data) is { } alone)
        {
            yield return (data, $"/{Member}", alone);
        }

        foreach (var (i, reading) in (data[Readings] as JsonArray ?? []).Index())
        {
            if (reading is JsonObject holder && WordIn(holder) is { } word)
            {
                yield return (holder, $"/{Readings}/{i}/{Member}", word);
            }
        }
    }

    private static string? WordIn(JsonObject holder) =>
        holder[Member] is JsonValue value && value.GetValueKind() == JsonValueKind.String && value.GetValue<string>() is { Length: > 0 } word ? word : null;

    // What cannot be read is told by whoever reads events.
    private static JsonObject? Parsed(string data)
    {
        try
        {
            return JsonNode.Parse(data, documentOptions: new JsonDocumentOptions { AllowDuplicateProperties = false }) as JsonObject;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
