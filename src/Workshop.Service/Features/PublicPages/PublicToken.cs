using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using Workshop.Core.Labels;
using Workshop.Core.Words;

namespace Workshop.Service.Features.PublicPages;

/// <summary>
/// What makes the address of a page unguessable: 32 random bytes, of which only the SHA-256 is kept. It needs no salt nor slowness,
/// since nobody guesses 32 random bytes. Those of a letter are derived from a key of the shop, so that the letter says the same when it
/// is sent again.
/// </summary>
public static class PublicToken
{
    private const int Bytes = 32;

    public static string Draw() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(Bytes));

    /// <summary>The same for the same key, job, view and letter (HMAC-SHA-256, RFC 2104).</summary>
    public static string Derive(byte[] key, Label job, PublicView view, string letter) =>
        Base64Url.EncodeToString(HMACSHA256.HashData(key, Encoding.UTF8.GetBytes($"{job}|{Word.Of(view)}|{letter}")));

    /// <summary>Of whatever stands where a token would: what is none is looked up like any other, and takes as long.</summary>
    public static byte[] HashOf(string token) => SHA256.HashData(Encoding.UTF8.GetBytes(token));

    public static string AddressOf(string token) => $"/v1/public/{token}";
}
