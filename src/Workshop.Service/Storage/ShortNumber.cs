using System.Security.Cryptography;
using System.Text;

namespace Workshop.Service.Storage;

/// <summary>
/// A number short enough to be known by heart, as it is kept: PBKDF2 (RFC 8018, section 5.2) with SHA-256 and a salt of its own. A number
/// of few digits can be found again by trying them all; slowness makes that cost hours, and what counts wrong tries does the rest.
/// </summary>
/// <param name="Iterations">As many as it was made with; more may be usual one day.</param>
public sealed record ShortNumber(byte[] Salt, byte[] Hash, int Iterations)
{
    private const int Bytes = 32;

    /// <summary>Some hundredths of a second on a small server. Own choice, between that and what a bench can wait for.</summary>
    private const int UsualIterations = 200_000;

    public static ShortNumber Of(string digits)
    {
        var salt = RandomNumberGenerator.GetBytes(Bytes);
        return new ShortNumber(salt, Derive(digits, salt, UsualIterations), UsualIterations);
    }

    /// <summary>Whether these are the digits. Slow by purpose: never ask while others wait for the writer.</summary>
    public bool Is(string digits) => CryptographicOperations.FixedTimeEquals(Derive(digits, Salt, Iterations), Hash);

    private static byte[] Derive(string digits, byte[] salt, int iterations) =>
        Rfc2898DeriveBytes.Pbkdf2(Encoding.UTF8.GetBytes(digits), salt, iterations, HashAlgorithmName.SHA256, Bytes);
}
