using System.Text.Json;
using System.Text.Json.Nodes;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.CloudEvents;

/// <summary>A short number that somebody told to prove who they are. It shows itself to nobody who prints or logs it.</summary>
public sealed class ToldNumber
{
    private ToldNumber(string? digits) => Digits = digits;

    /// <summary>4 to 8 digits; null where something else was sent in their place.</summary>
    public string? Digits { get; }

    public override string ToString() => "…";

    /// <summary>Takes the proof out of an event's data.</summary>
    /// <returns>The number, and the data without it; null and the same data where there was none.</returns>
    internal static (ToldNumber? Told, JsonElement Data) TakenFrom(JsonElement data)
    {
        if (data.ValueKind != JsonValueKind.Object || !data.TryGetProperty(EventCodec.Proof, out var told))
        {
            return (null, data);
        }

        return (new ToldNumber(EventCodec.IsProof(told) ? told.GetString() : null), JsonElement.Parse(Without(data, EventCodec.Proof)));
    }

    /// <summary>An object as text with another value for one member.</summary>
    internal static string With(JsonElement whole, string member, JsonElement value) =>
        Joined(whole.EnumerateObject().Select(one => (one.Name, Text: one.NameEquals(member) ? value.GetRawText() : one.Value.GetRawText())));

    private static string Without(JsonElement whole, string member) =>
        Joined(whole.EnumerateObject().Where(one => !one.NameEquals(member)).Select(one => (one.Name, Text: one.Value.GetRawText())));

    // Values stay as their sender wrote them; numbers above all.
    private static string Joined(IEnumerable<(string Name, string Text)> members) =>
        $"{{{string.Join(',', members.Select(one => $"{JsonValue.Create(one.Name).ToJsonString(WorkshopJson.Options)}:{one.Text}"))}}}";
}
