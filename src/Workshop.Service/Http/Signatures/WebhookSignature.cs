using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using NodaTime;
using Workshop.Core.Outgoing;

namespace Workshop.Service.Http.Signatures;

/// <summary>What of a signed message is not as its sender signed it.</summary>
public enum SignatureFault
{
    /// <summary>Nothing: it is theirs.</summary>
    None,

    TimestampMissing,
    TimestampUnreadable,
    TimestampTooOld,
    TimestampTooNew,

    IdMissing,

    /// <summary>It holds a full stop, which separates the parts that are signed.</summary>
    IdUnreadable,

    SignatureMissing,

    /// <summary>None of it is a <c>v1,</c> with 32 bytes in Base64.</summary>
    SignatureUnreadable,

    /// <summary>The same secret signed these bytes and this moment under another id.</summary>
    IdDiffers,

    /// <summary>The same secret signed these bytes and this id, with the moment in another notation.</summary>
    TimestampDiffers,

    /// <summary>The same secret signed this id and this moment, and the body before something on the way rewrote it.</summary>
    BodyDiffers,

    /// <summary>Another secret, or its text instead of its bytes.</summary>
    SecretDiffers,

    /// <summary>A signature of another body, id, moment or secret; which of them, nobody can tell from it.</summary>
    SignatureOfSomethingElse,
}

/// <summary>Whether a message is its sender's, and if not, what to look at. It holds nothing secret.</summary>
/// <param name="BodyBytes">Length of the body as it came.</param>
/// <param name="BodySha256">Of the body as it came, in hexadecimal: the sender compares it with that of what they signed.</param>
/// <param name="SecretMark">Which of the secrets it was; see <see cref="WebhookSecret.Mark"/>.</param>
public sealed record SignatureVerdict(SignatureFault Fault, string Sentence, string? Id, string? Timestamp, int BodyBytes, string BodySha256, string? SecretMark = null)
{
    public bool Genuine => Fault == SignatureFault.None;
}

/// <summary>Signs and verifies by Standard Webhooks 1.0.0, symmetric: HMAC-SHA256 over id, full stop, seconds, full stop, body byte for byte.</summary>
public static class WebhookSignature
{
    /// <summary>How far the moment of an attempt may lie from the receiver's clock, either way; that of the reference libraries.</summary>
    public static readonly Duration Tolerance = Duration.FromMinutes(5);

    private const string Version = "v1,";
    private const int MacBytes = 32;

    // More are no mistake of a rotation but work for nothing.
    private const int MostSignatures = 16;

    /// <summary>The value of the header <c>webhook-signature</c> for one secret.</summary>
    public static string Sign(WebhookSecret secret, string id, Instant timestamp, ReadOnlySpan<byte> body) =>
        Version + Convert.ToBase64String(Mac(secret.Key, id, Seconds(timestamp), body));

    /// <summary>The same for several that hold at once, as while a secret is rotated: the receiver needs to know one of them.</summary>
    public static string Sign(IEnumerable<WebhookSecret> secrets, string id, Instant timestamp, ReadOnlySpan<byte> body)
    {
        var signatures = new List<string>();
        foreach (var secret in secrets)
        {
            signatures.Add(Sign(secret, id, timestamp, body));
        }

        return string.Join(' ', signatures);
    }

    /// <summary>The value of the header <c>webhook-timestamp</c>.</summary>
    public static string Seconds(Instant timestamp) => timestamp.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);

    /// <summary>Whether one of the secrets signed exactly these bytes, with this id, at about this time.</summary>
    public static SignatureVerdict Verify(IReadOnlyCollection<WebhookSecret> secrets, WebhookHeaders headers, ReadOnlySpan<byte> body, Instant now)
    {
        var digest = Convert.ToHexStringLower(SHA256.HashData(body));
        var length = body.Length;
        SignatureVerdict Says(SignatureFault fault, string sentence, WebhookSecret? by = null) =>
            new(fault, sentence, headers.Id, headers.Timestamp, length, digest, by?.Mark);

        if (string.IsNullOrEmpty(headers.Id))
        {
            return Says(SignatureFault.IdMissing, "The header webhook-id is missing.");
        }

        if (headers.Id.Contains('.'))
        {
            return Says(SignatureFault.IdUnreadable, "The header webhook-id holds a full stop, which may not be in it.");
        }

        if (string.IsNullOrEmpty(headers.Timestamp))
        {
            return Says(SignatureFault.TimestampMissing, "The header webhook-timestamp is missing.");
        }

        if (!long.TryParse(headers.Timestamp, NumberStyles.None, CultureInfo.InvariantCulture, out var seconds))
        {
            return Says(SignatureFault.TimestampUnreadable, "The header webhook-timestamp is no whole number of seconds since 1970.");
        }

        if (string.IsNullOrEmpty(headers.Signature))
        {
            return Says(SignatureFault.SignatureMissing, "The header webhook-signature is missing.");
        }

        var signatures = Read(headers.Signature);
        if (signatures.Count == 0)
        {
            return Says(SignatureFault.SignatureUnreadable, "The header webhook-signature holds no signature of the form v1,<32 bytes in Base64>.");
        }

        // Compared as numbers: a moment of another age is no Instant.
        var away = (decimal)seconds - now.ToUnixTimeSeconds();
        if (away < -(decimal)Tolerance.TotalSeconds)
        {
            return Says(SignatureFault.TimestampTooOld, $"The header webhook-timestamp lies {-away} seconds back; at most {Tolerance.TotalSeconds} are taken. It is the moment of this attempt, not that of the event.");
        }

        if (away > (decimal)Tolerance.TotalSeconds)
        {
            return Says(SignatureFault.TimestampTooNew, $"The header webhook-timestamp lies {away} seconds ahead of the clock here; at most {Tolerance.TotalSeconds} are taken. Is it in seconds, and is the clock right?");
        }

        foreach (var secret in secrets)
        {
            if (IsOneOf(signatures, Mac(secret.Key, headers.Id, headers.Timestamp, body)))
            {
                return Says(SignatureFault.None, "The signature is right.", secret);
            }
        }

        foreach (var secret in secrets)
        {
            if (WhatDiffers(secret, signatures, headers.Id, headers.Timestamp, seconds, body) is var (fault, sentence))
            {
                return Says(fault, sentence, secret);
            }
        }

        return Says(
            SignatureFault.SignatureOfSomethingElse,
            "The signature is that of another body, id, timestamp or secret. Compare the SHA-256 of the body, the id and the timestamp given here with what was signed; where all three are the same, it was another secret.");
    }

    // The usual slips. A match is a signature by the secret itself, so that nobody without it learns anything here.
    private static (SignatureFault Fault, string Sentence)? WhatDiffers(WebhookSecret secret, List<byte[]> signatures, string id, string timestamp, long seconds, ReadOnlySpan<byte> body)
    {
        if (IsOneOf(signatures, Mac(Encoding.UTF8.GetBytes(secret.Written), id, timestamp, body))
            || IsOneOf(signatures, Mac(Encoding.UTF8.GetBytes(secret.Written[WebhookSecret.Prefix.Length..]), id, timestamp, body)))
        {
            return (SignatureFault.SecretDiffers, "It was signed with the text of the secret; the key is the bytes that follow whsec_ in Base64.");
        }

        foreach (var other in new[] { "", id.Trim(), id.ToLowerInvariant(), id.ToUpperInvariant() })
        {
            if (other != id && IsOneOf(signatures, Mac(secret.Key, other, timestamp, body)))
            {
                return (SignatureFault.IdDiffers, "Another id was signed than the header webhook-id has.");
            }
        }

        foreach (var other in new[] { (seconds * 1000m).ToString(CultureInfo.InvariantCulture), Instant.FromUnixTimeSeconds(seconds).ToString() })
        {
            if (IsOneOf(signatures, Mac(secret.Key, id, other, body)))
            {
                return (SignatureFault.TimestampDiffers, "The timestamp was signed in another notation than the header webhook-timestamp has; it is in seconds since 1970.");
            }
        }

        if (IsOneOf(signatures, Mac(secret.Key, id, timestamp, Trimmed(body)))
            || IsOneOf(signatures, Mac(secret.Key, id, timestamp, [.. body, (byte)'\n'])))
        {
            return (SignatureFault.BodyDiffers, "Another body was signed: it has blanks or a line's end more or less than what came. Sign the very bytes that are sent.");
        }

        return null;
    }

    private static ReadOnlySpan<byte> Trimmed(ReadOnlySpan<byte> body)
    {
        var rest = body.StartsWith("\uFEFF"u8) ? body[3..] : body;
        return rest.Trim(" \t\r\n"u8);
    }

    private static List<byte[]> Read(string header)
    {
        var found = new List<byte[]>();
        foreach (var one in header.Split([' ', '\t'], StringSplitOptions.RemoveEmptyEntries).Take(MostSignatures))
        {
            var mac = new byte[MacBytes];
            if (one.StartsWith(Version, StringComparison.Ordinal) && Convert.TryFromBase64String(one[Version.Length..], mac, out var written) && written == MacBytes)
            {
                found.Add(mac);
            }
        }

        return found;
    }

    private static bool IsOneOf(List<byte[]> signatures, byte[] mac)
    {
        var found = false;
        foreach (var one in signatures)
        {
            found |= CryptographicOperations.FixedTimeEquals(one, mac);
        }

        return found;
    }

    private static byte[] Mac(ReadOnlySpan<byte> key, string id, string timestamp, ReadOnlySpan<byte> body)
    {
        using var mac = IncrementalHash.CreateHMAC(HashAlgorithmName.SHA256, key);
        mac.AppendData(Encoding.UTF8.GetBytes($"{id}.{timestamp}."));
        mac.AppendData(body);
        return mac.GetHashAndReset();
    }
}
