using System.Security.Cryptography;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests;

/// <summary>
/// Folders that a test throws away. Where the machine has a roomy medium of memory they lie there, so that nobody waits for hundreds of thousands
/// of flushes; that a medium keeps what it was given is tried elsewhere, on a disk and with processes that are killed.
/// </summary>
internal static class ScratchFolder
{
    private const string Memory = "/dev/shm";
    private const long Roomy = 1L << 30;

    /// <summary>The folder in which they are made.</summary>
    public static readonly string Medium = Directory.Exists(Memory) && new DriveInfo(Memory).AvailableFreeSpace > Roomy ? Memory : Path.GetTempPath();

    /// <summary>The name of a folder that does not exist yet.</summary>
    public static string New(string what = "test") => Path.Combine(Medium, $"workshop-{what}-{RandomNumberGenerator.GetHexString(12, lowercase: true)}");

    /// <summary>Copies what SQLite keeps; not the index of its log, which it makes anew.</summary>
    public static void CopyDatabase(string from, string to)
    {
        Directory.CreateDirectory(to);
        foreach (var file in Directory.GetFiles(from, $"{Database.FileName}*").Where(file => !file.EndsWith("-shm", StringComparison.Ordinal)))
        {
            using var source = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            using var target = File.Create(Path.Combine(to, Path.GetFileName(file)));
            source.CopyTo(target);
        }
    }
}
