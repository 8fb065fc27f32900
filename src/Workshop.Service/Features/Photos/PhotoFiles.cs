using Workshop.Core.Labels;
using Workshop.Service.Settings;

namespace Workshop.Service.Features.Photos;

/// <summary>
/// Photos as files beside the database, a folder for each job: <c>photos/&lt;site&gt;/&lt;label&gt;/&lt;hash as sent&gt;.&lt;stored hash&gt;</c> and
/// the same with <c>.thumb</c>. A file is written under another name, brought to the medium and then renamed, so that a name always leads
/// to a whole file.
/// </summary>
public sealed class PhotoFiles(PhotoSettings settings)
{
    private const string Thumb = ".thumb";
    private const string Unfinished = ".part";

    public string Folder => settings.Folder;

    /// <exception cref="IOException">The folder cannot be written.</exception>
    public void Put(string site, Label job, StoredPhoto photo, KeptPicture picture)
    {
        var folder = FolderOf(site, job);
        Directory.CreateDirectory(folder);
        Put(PathOf(site, job, photo), picture.Bytes);
        Put(PathOf(site, job, photo) + Thumb, picture.Thumb);
    }

    /// <summary>The path of a photo that is there; null for one whose file is gone.</summary>
    public string? Find(string site, Label job, StoredPhoto photo, bool thumb)
    {
        var path = PathOf(site, job, photo) + (thumb ? Thumb : "");
        return File.Exists(path) ? path : null;
    }

    public bool Has(string site, Label job, StoredPhoto photo) => Find(site, job, photo, thumb: false) is not null && Find(site, job, photo, thumb: true) is not null;

    // Two that send the same at once write two files, and the second takes the name over whole.
    private static void Put(string path, byte[] bytes)
    {
        var part = $"{path}.{Path.GetRandomFileName()}{Unfinished}";
        try
        {
            using (var file = new FileStream(part, FileMode.CreateNew, FileAccess.Write))
            {
                file.Write(bytes);
                file.Flush(flushToDisk: true);
            }

            File.Move(part, path, overwrite: true);
        }
        catch
        {
            File.Delete(part);
            throw;
        }
    }

    private string FolderOf(string site, Label job) => Path.Combine(settings.Folder, site, job.ToString());

    // Both hashes were read as such: nothing in the name comes from elsewhere.
    private string PathOf(string site, Label job, StoredPhoto photo) => Path.Combine(FolderOf(site, job), $"{photo.Sha256}.{photo.StoredSha256}");
}
