using System.Diagnostics.CodeAnalysis;
using System.Security.Cryptography;

namespace Workshop.Core.Outgoing;

/// <summary>
/// The secret that sender and receiver of signed messages share: 24 to 64 bytes, written as <c>whsec_</c> and their Base64
/// (Standard Webhooks 1.0.0, signature scheme). Its bytes are the key, not its text.
/// </summary>
public sealed class WebhookSecret
{
    public const string Prefix = "whsec_";
    public const int FewestBytes = 24;
    public const int MostBytes = 64;
    private const int DrawnBytes = 32;

    private readonly byte[] key;

    private WebhookSecret(byte[] key) => this.key = key;

    /// <summary>As it is handed to the other side, once.</summary>
    public string Written => Prefix + Convert.ToBase64String(key);

    /// <summary>By what a secret is told from others without being shown: the first eight hexadecimal digits of its SHA-256.</summary>
    public string Mark => Convert.ToHexStringLower(SHA256.HashData(key))[..8];

    /// <summary>What is signed with.</summary>
    public ReadOnlySpan<byte> Key => key;

    /// <summary>A new one, by chance.</summary>
    public static WebhookSecret Draw() => new(RandomNumberGenerator.GetBytes(DrawnBytes));

    /// <summary>Reads what somebody entered; false where it is no secret of this kind.</summary>
    public static bool TryRead(string? text, [NotNullWhen(true)] out WebhookSecret? secret)
    {
        secret = null;
        if (text is null || !text.StartsWith(Prefix, StringComparison.Ordinal))
        {
            return false;
        }

        // One byte more than allowed, so that a longer one is seen to be longer.
        Span<byte> bytes = stackalloc byte[MostBytes + 1];
        if (!Convert.TryFromBase64Chars(text.AsSpan(Prefix.Length), bytes, out var written) || written is < FewestBytes or > MostBytes)
        {
            return false;
        }

        secret = new WebhookSecret(bytes[..written].ToArray());
        return true;
    }

    /// <summary>Never the secret: it would stand in a log.</summary>
    public override string ToString() => $"secret {Mark}";
}
