using System.Collections.Immutable;
using System.Text;
using NodaTime;
using Org.BouncyCastle.Crypto.Parameters;
using Org.BouncyCastle.X509;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Extracts;

/// <summary>A key by which anybody can check a seal with tools of their own.</summary>
/// <param name="PublicKey">SubjectPublicKeyInfo (RFC 8410) as PEM.</param>
/// <param name="RetiredAt">It seals nothing more since; what it sealed before stays good.</param>
public sealed record SealKeyView(string Id, string Algorithm, string PublicKey, Instant CreatedAt, Instant? RetiredAt);

public sealed record SealKeysView(ImmutableArray<SealKeyView> Keys);

/// <summary>The public halves of the keys that extracts were ever sealed with.</summary>
public static class ReadSealKeys
{
    public static async Task<Done<SealKeysView>> Handle(Reader reader, CancellationToken cancel) =>
        Answer.Done(new SealKeysView([.. (await reader.Read(SealKeyStore.List, cancel)).Select(Shown)]));

    /// <summary>Another key seals from now on.</summary>
    public static async Task<Done<SealKeyView>> Replace(Caller caller, Writer writer, CancellationToken cancel) =>
        Answer.Done(Shown(await writer.Turn(caller.Site, SealKeyStore.Replace, cancel)));

    private static SealKeyView Shown(SealKey key) => new(key.Id, "Ed25519", Pem(key.PublicKey), Microseconds.Read(key.Created), Microseconds.Read(key.Retired));

    private static string Pem(byte[] open)
    {
        var info = SubjectPublicKeyInfoFactory.CreateSubjectPublicKeyInfo(new Ed25519PublicKeyParameters(open)).GetDerEncoded();
        return new StringBuilder("-----BEGIN PUBLIC KEY-----\n").Append(Convert.ToBase64String(info)).Append("\n-----END PUBLIC KEY-----\n").ToString();
    }
}
