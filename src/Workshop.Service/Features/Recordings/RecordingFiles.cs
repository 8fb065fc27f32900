using System.Buffers;
using System.Security.Cryptography;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>A file that has come whole and has no name yet; gone when nobody keeps it.</summary>
internal sealed class ReceivedFile(string path, string sha256, long bytes) : IDisposable
{
    public string Path => path;

    /// <summary>Of the bytes as they were sent.</summary>
    public string Sha256 => sha256;

    public long Bytes => bytes;

    public void Dispose() => File.Delete(path);
}

/// <summary>
/// Recordings as files beside the database, byte for byte as they were sent: <c>recordings/&lt;site&gt;/&lt;label&gt;/&lt;hash&gt;.wav</c>. What
/// comes is written under another name while it is hashed and counted, so that no memory is taken for it, and renamed when it is whole.
/// </summary>
public sealed class RecordingFiles(RecordingSettings settings)
{
    private const string Incoming = "incoming";
    private const int PieceBytes = 64 * 1024;

    /// <summary>What comes, on the medium and hashed; null where it is more than may come.</summary>
    /// <exception cref="StorageUnavailableException">The medium is full, or the line broke.</exception>
    internal async Task<ReceivedFile?> Receive(Stream body, CancellationToken cancel)
    {
        var folder = Path.Combine(settings.Folder, Incoming);
        Directory.CreateDirectory(folder);
        var path = Path.Combine(folder, Path.GetRandomFileName());
        var piece = ArrayPool<byte>.Shared.Rent(PieceBytes);
        try
        {
            using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
            long taken = 0;
            await using (var file = new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.None, bufferSize: 0))
            {
                int got;
                while ((got = await body.ReadAsync(piece.AsMemory(0, PieceBytes), cancel)) > 0)
                {
                    taken += got;
                    if (taken > settings.BytesAtMost)
                    {
                        break;
                    }

                    hash.AppendData(piece, 0, got);
                    await file.WriteAsync(piece.AsMemory(0, got), cancel);
                }

                if (taken <= settings.BytesAtMost)
                {
                    file.Flush(flushToDisk: true);
                    return new ReceivedFile(path, Convert.ToHexStringLower(hash.GetHashAndReset()), taken);
                }
            }

            File.Delete(path);
            return null;
        }
        catch (Exception failure)
        {
            File.Delete(path);
            if (failure is IOException and not BadHttpRequestException && !cancel.IsCancellationRequested)
            {
                throw new StorageUnavailableException(failure);
            }

            throw;
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(piece);
        }
    }

    /// <summary>Gives it its name for ever; somebody who sent the same meanwhile has sent the same bytes.</summary>
    /// <exception cref="StorageUnavailableException">The folder cannot be written.</exception>
    internal void Keep(ReceivedFile received, string site, Label job)
    {
        try
        {
            Directory.CreateDirectory(FolderOf(site, job));
            File.Move(received.Path, PathOf(site, job, received.Sha256), overwrite: true);
        }
        catch (IOException failure)
        {
            throw new StorageUnavailableException(failure);
        }
    }

    /// <summary>The path of a recording that is there; null for one whose file is gone.</summary>
    public string? Find(string site, Label job, string sha256) => PathOf(site, job, sha256) is var path && File.Exists(path) ? path : null;

    public void Remove(string site, Label job, string sha256)
    {
        if (Find(site, job, sha256) is { } path)
        {
            File.Delete(path);
        }
    }

    /// <summary>Removes what a service that died has left half received.</summary>
    public void RemoveUnfinished(Instant before)
    {
        var folder = new DirectoryInfo(Path.Combine(settings.Folder, Incoming));
        if (folder.Exists)
        {
            foreach (var file in folder.EnumerateFiles().Where(file => file.LastWriteTimeUtc < before.ToDateTimeUtc()))
            {
                file.Delete();
            }
        }
    }

    private string FolderOf(string site, Label job) => Path.Combine(settings.Folder, site, job.ToString());

    // The hash was read as such: nothing in the name comes from elsewhere.
    private string PathOf(string site, Label job, string sha256) => Path.Combine(FolderOf(site, job), $"{sha256}.wav");
}
