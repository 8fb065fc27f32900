using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using Org.BouncyCastle.Crypto.Parameters;
using Org.BouncyCastle.Crypto.Signers;
using Workshop.Core.Extracts;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Extracts;

/// <summary>Which watch an extract is about, as far as it is known; that it is this one is read off the watch itself.</summary>
public sealed record ExtractWatch(
    string? Maker = null, string? Model = null, string? Reference = null, string? CaseSerial = null, string? MovementNumber = null, string? Calibre = null);

/// <summary>The first line of an extract.</summary>
/// <param name="JobVersion">Of the job when it was sealed.</param>
public sealed record ExtractHead(string Form, Label Job, long JobVersion, LocalDate IssuedOn, string Workshop, ExtractWatch Watch, string Words);

/// <summary>
/// An extract as text: a line of JSON each, ended by a line feed. Every line but the first holds in <c>before</c> the SHA-256 of the line
/// before it (without its line feed), in hexadecimal; the last one holds an Ed25519 signature (RFC 8032) over all bytes above it.
/// </summary>
public static class SealedText
{
    public const string Form = "sealed-extract/1";

    private const string Words = "Figures are computed from what was measured; this is no certificate of any testing body. The case serial says which watch it is: read it off the watch.";

    /// <param name="digests">Of the entries of the job, by position: SHA-256 of salt and data, as the journal keeps it.</param>
    public static byte[] Write(ExtractHead head, ImmutableArray<ExtractLine> lines, IReadOnlyDictionary<long, byte[]> digests, SealKey key)
    {
        var text = new StringBuilder();
        var before = Put(text, JsonSerializer.SerializeToNode(head with { Words = Words }, WorkshopJson.Options)!.AsObject(), null);
        foreach (var line in lines)
        {
            var node = JsonSerializer.SerializeToNode(line with { Position = null }, WorkshopJson.Options)!.AsObject();
            if (line.Position is { } position && digests.TryGetValue(position, out var digest))
            {
                node["entry"] = Convert.ToHexStringLower(digest);
            }

            before = Put(text, node, before);
        }

        var signer = new Ed25519Signer();
        signer.Init(true, new Ed25519PrivateKeyParameters(key.PrivateKey));
        var above = Encoding.UTF8.GetBytes(text.ToString());
        signer.BlockUpdate(above, 0, above.Length);
        Put(text, new JsonObject { ["seal"] = "ed25519", ["key"] = key.Id, ["signature"] = Convert.ToBase64String(signer.GenerateSignature()) }, before);
        return Encoding.UTF8.GetBytes(text.ToString());
    }

    /// <summary>Looks at an extract that somebody shows. Line ends of any system are taken.</summary>
    /// <param name="keyOf">Finds a key by its id.</param>
    public static SealVerdict Read(string shown, Func<string, SealKey?> keyOf)
    {
        var lines = shown.Replace("\r\n", "\n", StringComparison.Ordinal).Trim('\n', ' ', '\uFEFF').Split('\n');
        var objects = lines.Select(Parsed).ToArray();
        if (objects.Length < 2 || Array.FindIndex(objects, one => one is null) is var broken and >= 0)
        {
            return new SealVerdict(ExtractState.Unreadable) { Line = objects.Length < 2 ? 1 : Array.FindIndex(objects, one => one is null) + 1 };
        }

        if (Text(objects[0]!, "form") != Form || Text(objects[^1]!, "seal") != "ed25519" || Text(objects[^1]!, "key") is not { } id || Signature(objects[^1]!) is not { } signature)
        {
            return new SealVerdict(ExtractState.Unreadable) { Line = Text(objects[0]!, "form") == Form ? lines.Length : 1 };
        }

        for (var i = 1; i < lines.Length; i++)
        {
            if (Text(objects[i]!, "before") != HashOf(lines[i - 1]))
            {
                return new SealVerdict(ExtractState.Altered) { Line = i, KeyId = id };
            }
        }

        if (keyOf(id) is not { } key)
        {
            return new SealVerdict(ExtractState.UnknownKey) { KeyId = id };
        }

        var verifier = new Ed25519Signer();
        verifier.Init(false, new Ed25519PublicKeyParameters(key.PublicKey));
        var above = Encoding.UTF8.GetBytes(string.Concat(lines[..^1].Select(line => line + "\n")));
        verifier.BlockUpdate(above, 0, above.Length);
        return verifier.VerifySignature(signature)
            ? new SealVerdict(ExtractState.Genuine) { KeyId = id, Site = key.Site, Head = JsonSerializer.Deserialize<ExtractHead>(lines[0], WorkshopJson.Options) }
            : new SealVerdict(ExtractState.Altered) { KeyId = id };
    }

    private static string Put(StringBuilder text, JsonObject node, string? before)
    {
        if (before is not null)
        {
            node.Insert(0, "before", before);
        }

        var line = node.ToJsonString(WorkshopJson.Options);
        text.Append(line).Append('\n');
        return HashOf(line);
    }

    private static string HashOf(string line) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(line)));

    private static JsonObject? Parsed(string line)
    {
        try
        {
            return JsonNode.Parse(line) as JsonObject;
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private static string? Text(JsonObject node, string name) => node[name] is JsonValue value && value.TryGetValue<string>(out var text) ? text : null;

    private static byte[]? Signature(JsonObject node)
    {
        var bytes = new byte[Ed25519PrivateKeyParameters.SignatureSize];
        return Text(node, "signature") is { } text && Convert.TryFromBase64String(text, bytes, out var written) && written == bytes.Length ? bytes : null;
    }
}

/// <summary>What a look at an extract comes to.</summary>
public enum ExtractState
{
    /// <summary>Every line is as this workshop wrote it.</summary>
    Genuine,

    /// <summary>A line, or the seal, is not as it was written.</summary>
    Altered,

    /// <summary>It names a key that is none of ours.</summary>
    UnknownKey,

    /// <summary>It is no extract, or not whole.</summary>
    Unreadable,
}

/// <param name="State">What it comes to.</param>
public sealed record SealVerdict(ExtractState State)
{
    /// <summary>The first line, from 1, that is not as it was; absent where the seal itself is at fault.</summary>
    public int? Line { get; init; }

    public string? KeyId { get; init; }

    public string? Site { get; init; }

    public ExtractHead? Head { get; init; }
}
