using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace Workshop.Service.Features.PublicPages;

/// <summary>
/// What makes the address of a page unguessable: 32 random bytes, of which only the SHA-256 is kept. It needs no salt nor slowness,
/// since nobody guesses 32 random bytes.
/// </summary>
public static class PublicToken
{
    private const int Bytes = 32;

    public static string Draw() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(Bytes));

    /// <summary>Of whatever stands where a token would: what is none is looked up like any other, and takes as long.</summary>
    public static byte[] HashOf(string token) => SHA256.HashData(Encoding.UTF8.GetBytes(token));

    public static string AddressOf(string token) => $"/v1/public/{token}";
}
