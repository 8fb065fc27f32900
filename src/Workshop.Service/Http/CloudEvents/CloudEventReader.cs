using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Journal;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Http.CloudEvents;

/// <summary>One event as read: the event, or what is wrong with its envelope.</summary>
/// <param name="Id">The id where one could be read, so that an answer can name it.</param>
/// <param name="Malformed">What could be read of an envelope that has faults but says who speaks and under which id.</param>
public sealed record CloudEventRead(CloudEvent? Event, string? Id, IReadOnlyList<Fault> Faults, MalformedEvent? Malformed = null)
{
    /// <summary>Who speaks, where that could be read.</summary>
    public string? Source => Event?.Source ?? Malformed?.Source;

    public long? Sequence => Event?.Sequence ?? Malformed?.Sequence;
}

/// <summary>An event whose envelope has faults, but an identity under which it can be kept.</summary>
/// <param name="Text">As sent, but for a proof.</param>
/// <param name="Digest">SHA-256 of that text.</param>
public sealed record MalformedEvent(string Source, string Id, long? Sequence, string? TimeText, string Text, ImmutableArray<byte> Digest);

/// <summary>
/// Reads events in the structured form of CloudEvents 1.0: one, or a batch. The envelope is strict where the specification
/// is, and keeps any attribute that it allows.
/// </summary>
public static class CloudEventReader
{
    public const string One = "application/cloudevents+json";
    public const string Batch = "application/cloudevents-batch+json";
    public const int BatchAtMost = 500;

    private const int TextAtMost = 200;

    private static readonly JsonElement NoData = JsonElement.Parse("{}");

    /// <summary>Reads one event, or a batch of 1 to 500.</summary>
    /// <returns>The events in the order sent, or the refusal of the whole.</returns>
    public static (ImmutableArray<CloudEventRead> Events, ProblemHttpResult? Refusal) Read(ReadOnlyMemory<byte> body, bool isBatch)
    {
        if (!JsonText.TryParse(body, out var document, out var refusal))
        {
            return ([], refusal);
        }

        using (document)
        {
            var sent = document.RootElement;
            return !isBatch ? ([ReadOne(sent)], null)
                : sent.ValueKind != JsonValueKind.Array ? ([], Problems.BadFields(new Fault("", "A batch is a list of events.")))
                : sent.GetArrayLength() == 0 ? ([], Problems.BadFields(new Fault("", "A batch holds at least one event.")))
                : sent.GetArrayLength() > BatchAtMost ? ([], Problems.Of(ProblemCatalogue.BodyTooLarge, $"A batch holds at most {BatchAtMost} events.", ("limit", BatchAtMost)))
                : ([.. sent.EnumerateArray().Select(ReadOne)], null);
        }
    }

    /// <summary>Reads one event that was kept as text.</summary>
    public static CloudEventRead ReadKept(string text)
    {
        using var document = JsonDocument.Parse(text);
        return ReadOne(document.RootElement);
    }

    private static CloudEventRead ReadOne(JsonElement sent)
    {
        if (sent.ValueKind != JsonValueKind.Object)
        {
            return new CloudEventRead(null, null, [new Fault("", "An event is an object.")]);
        }

        var envelope = new Envelope(sent);
        var id = envelope.Needed("id");
        var source = envelope.Needed("source");
        var type = envelope.Needed("type");
        var subject = envelope.Optional("subject");
        var timeText = envelope.Optional("time");
        var time = timeText is null ? null : Rfc3339.Read(timeText);
        var sequence = envelope.Optional("sequence");
        var data = envelope.Data();
        var further = envelope.Further();

        envelope.Require(envelope.Needed("specversion") is null or "1.0", "specversion", "The version has to be 1.0.");
        envelope.Require(envelope.Optional("datacontenttype") is not { } contentType || IsJson(contentType), "datacontenttype", "The data has to be JSON.");
        envelope.Require(sequence is null || IsSequence(sequence), "sequence", "This is not 1 to 18 decimal digits, written as text.");
        envelope.Require(timeText is null || time is not null, "time", "This is not a moment such as 2026-03-02T10:14:03+01:00.");

        var number = sequence is not null && IsSequence(sequence) ? long.Parse(sequence, NumberStyles.None, CultureInfo.InvariantCulture) : (long?)null;
        var (proof, kept) = ToldNumber.TakenFrom(data);
        var text = proof is null ? sent.GetRawText() : ToldNumber.With(sent, "data", kept);
        return envelope.Faults.Count > 0
            ? new CloudEventRead(null, id, envelope.Faults, source is null || id is null ? null
                : new MalformedEvent(source, id, number, timeText, text, [.. SHA256.HashData(Encoding.UTF8.GetBytes(text))]))
            : new CloudEventRead(
                new CloudEvent
                {
                    Id = id!,
                    Source = source!,
                    Type = type!,
                    Subject = subject,
                    TimeText = timeText,
                    Time = time,
                    Sequence = number,
                    Data = kept.GetRawText(),
                    Proof = proof,
                    Further = further,
                    Text = text,
                    Digest = ContentDigest.Of(type!, subject, timeText, sequence, kept),
                },
                id,
                []);
    }

    private static bool IsSequence(string text) => text.Length is >= 1 and <= 18 && text.All(char.IsAsciiDigit);

    private static bool IsJson(string contentType)
    {
        var mediaType = contentType.Split(';')[0].Trim();
        return mediaType.Equals("application/json", StringComparison.OrdinalIgnoreCase)
            || mediaType.EndsWith("+json", StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>The attributes of one event, read by name; whatever is wrong is collected.</summary>
    private sealed class Envelope(JsonElement sent)
    {
        private static readonly HashSet<string> ReadByName =
            ["specversion", "id", "source", "type", "subject", "time", "sequence", "datacontenttype", "data", "data_base64"];

        public List<Fault> Faults { get; } = [];

        public void Require(bool holds, string attribute, string detail)
        {
            if (!holds)
            {
                Faults.Add(new Fault(JsonFaults.Pointer([attribute]), detail));
            }
        }

        public string? Needed(string attribute)
        {
            Require(Sent(attribute) is not null, attribute, $"'{attribute}' is missing.");
            return Optional(attribute);
        }

        public string? Optional(string attribute)
        {
            if (Sent(attribute) is not { } value)
            {
                return null;
            }

            var text = value.ValueKind == JsonValueKind.String ? value.GetString() : null;
            var usable = text is { Length: > 0 and <= TextAtMost };
            Require(usable, attribute, $"This is not a text of 1 to {TextAtMost} characters.");
            return usable ? text : null;
        }

        public JsonElement Data()
        {
            Require(Sent("data_base64") is null, "data_base64", "The data is sent as JSON in 'data'.");
            var data = Sent("data") ?? NoData;
            Require(data.ValueKind == JsonValueKind.Object, "data", "This is not an object.");
            return data;
        }

        public ImmutableSortedDictionary<string, string> Further()
        {
            var kept = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
            foreach (var attribute in sent.EnumerateObject())
            {
                if (!ReadByName.Contains(attribute.Name) && Sent(attribute.Name) is { } value)
                {
                    var legal = attribute.Name.Length is > 0 and <= TextAtMost && attribute.Name.All(letter => char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter));
                    Require(legal, attribute.Name.Length <= TextAtMost ? attribute.Name : attribute.Name[..TextAtMost], "The name of an attribute has only the letters a to z and digits.");
                    Require(IsSimple(value), attribute.Name, "This is not a text, a whole number, true or false.");
                    kept[attribute.Name] = value.GetRawText();
                }
            }

            return kept.ToImmutable();
        }

        // A member that is null is the same as one left out (JSON format of CloudEvents 1.0.2, section 2.2).
        private JsonElement? Sent(string attribute) =>
            sent.TryGetProperty(attribute, out var value) && value.ValueKind != JsonValueKind.Null ? value : null;

        // Attributes hold no objects, and the only kind of number is Integer, of 32 bits (CloudEvents 1.0.2, "Type System").
        private static bool IsSimple(JsonElement value) => value.ValueKind switch
        {
            JsonValueKind.String or JsonValueKind.True or JsonValueKind.False => true,
            JsonValueKind.Number => value.TryGetInt32(out _),
            _ => false,
        };
    }
}
