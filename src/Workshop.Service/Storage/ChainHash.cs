using System.Buffers;
using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Workshop.Service.Storage;

/// <summary>What of an entry the chain covers.</summary>
public readonly record struct ChainLink
{
    public required string Site { get; init; }

    public required long Position { get; init; }

    public required string Stream { get; init; }

    public required long StreamVersion { get; init; }

    public required string Source { get; init; }

    public required string Id { get; init; }

    /// <summary>Whole microseconds since 1970-01-01T00:00Z.</summary>
    public required long Effective { get; init; }

    public required string Type { get; init; }

    /// <summary><c>applied</c> or <c>noted</c>.</summary>
    public required string Disposition { get; init; }

    /// <summary>SHA-256 over salt and data.</summary>
    public required ReadOnlyMemory<byte> Digest { get; init; }

    public required string Judged { get; init; }
}

/// <summary>
/// The chain of the journal: each entry's hash covers the one before it, so that an entry that was changed, left out or put in
/// later shows.
/// </summary>
/// <remarks>
/// SHA-256 over, in this order: previous hash, site, position, stream, stream version, source, id, effective time, type,
/// disposition, digest, SHA-256 of judged. Each part is preceded by its length in bytes as 8 bytes, most significant first.
/// Numbers are 8 bytes, most significant first; text is UTF-8. Before the first entry of a site the previous hash is 32 bytes 0.
/// <para>
/// Test vector: previous hash 32 × 00, site <c>main</c>, position 1, stream <c>job/J7K3MQ4T</c>, stream version 1, source
/// <c>/devices/bench-2/1</c>, id <c>e-1</c>, effective 1772442843000000 (2026-03-02T09:14:03Z), type <c>stage.started</c>,
/// disposition <c>applied</c>, salt 32 × 01, data <c>{"stage":"cleaning"}</c>, judged <c>{}</c> gives the digest
/// <c>73b826431d656eb8dae00fec65dc2abcb08758d9e3f9d890e7a6bf35ca7574d7</c> and the hash
/// <c>d44ec3d7dac6d8024206ec89adf38ac159a2c32b5ad6e803f9bea15692ad34a0</c>.
/// </para>
/// </remarks>
public static class ChainHash
{
    /// <summary>Bytes of a hash, a digest and a salt.</summary>
    public const int Length = 32;

    /// <summary>What stands before the first entry.</summary>
    public static byte[] Beginning => new byte[Length];

    /// <summary>The digest of an entry's data; with the salt gone, it no longer tells what the data was.</summary>
    public static byte[] Digest(ReadOnlySpan<byte> salt, string data)
    {
        var length = salt.Length + Encoding.UTF8.GetByteCount(data);
        var rented = ArrayPool<byte>.Shared.Rent(length);
        try
        {
            salt.CopyTo(rented);
            Encoding.UTF8.GetBytes(data, rented.AsSpan(salt.Length));
            return SHA256.HashData(rented.AsSpan(0, length));
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(rented);
        }
    }

    public static byte[] Next(ReadOnlySpan<byte> previous, in ChainLink link)
    {
        Span<byte> judged = stackalloc byte[Length];
        SHA256.HashData(Encoding.UTF8.GetBytes(link.Judged), judged);

        var parts = new ArrayBufferWriter<byte>(512);
        Add(parts, previous);
        Add(parts, link.Site);
        Add(parts, link.Position);
        Add(parts, link.Stream);
        Add(parts, link.StreamVersion);
        Add(parts, link.Source);
        Add(parts, link.Id);
        Add(parts, link.Effective);
        Add(parts, link.Type);
        Add(parts, link.Disposition);
        Add(parts, link.Digest.Span);
        Add(parts, judged);
        return SHA256.HashData(parts.WrittenSpan);
    }

    private static void Add(ArrayBufferWriter<byte> parts, ReadOnlySpan<byte> part)
    {
        AddNumber(parts, part.Length);
        parts.Write(part);
    }

    private static void Add(ArrayBufferWriter<byte> parts, string part)
    {
        AddNumber(parts, Encoding.UTF8.GetByteCount(part));
        Encoding.UTF8.GetBytes(part, parts);
    }

    private static void Add(ArrayBufferWriter<byte> parts, long part)
    {
        AddNumber(parts, sizeof(long));
        AddNumber(parts, part);
    }

    private static void AddNumber(ArrayBufferWriter<byte> parts, long number)
    {
        BinaryPrimitives.WriteInt64BigEndian(parts.GetSpan(sizeof(long)), number);
        parts.Advance(sizeof(long));
    }
}
