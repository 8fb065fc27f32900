using System.Globalization;
using Dapper;
using Microsoft.Data.Sqlite;
using NodaTime;
using NodaTime.Text;

namespace Workshop.Service.Storage;

/// <summary>Section <c>Backup</c> of the settings.</summary>
/// <param name="Folder">Where copies are laid; <c>back-ups</c> within Storage:Path where empty.</param>
/// <param name="Keep">So many copies are kept, the oldest goes first.</param>
public sealed record BackUpSettings(string Folder, int Keep);

/// <summary>A copy that was made.</summary>
public sealed record BackUpFile(string Name, long Bytes);

/// <summary>
/// Copies the whole SQLite database into a file of its own, beside running benches. On PostgreSQL copies are the operator's, who tells
/// the service of them.
/// </summary>
public sealed class BackUps(Database database, StorageSettings storage, BackUpSettings settings)
{
    private const string Beginning = "workshop-";
    private const string Ending = ".db";
    private const string Unfinished = ".part";

    private const string CopySql = "vacuum into @file";
    private const string CheckSql = "pragma quick_check(1)";

    private static readonly InstantPattern Stamp = InstantPattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss'Z'");

    public bool AreOurs => database.Engine == StorageEngine.Sqlite;

    public string Folder => settings.Folder.Length > 0 ? settings.Folder : Path.Combine(storage.Path, "back-ups");

    /// <summary>Copies what is committed, looks whether the copy is whole, and lets the oldest ones go.</summary>
    /// <exception cref="IOException">The folder cannot be written.</exception>
    /// <exception cref="InvalidDataException">The copy is not whole; it is not kept.</exception>
    public BackUpFile Make(Instant now)
    {
        Directory.CreateDirectory(Folder);
        var name = $"{Beginning}{Stamp.Format(now)}{Ending}";
        var part = Path.Combine(Folder, name + Unfinished);
        Prepare(part);
        using (var connection = database.OpenShortWriter())
        {
            connection.Execute(CopySql, new { file = part });
        }

        if (Fault(part) is { } fault)
        {
            File.Delete(part);
            throw new InvalidDataException($"The copy of the database is not whole: {fault}");
        }

        using (var file = new FileStream(part, FileMode.Open, FileAccess.ReadWrite))
        {
            file.Flush(flushToDisk: true);
        }

        File.Move(part, Path.Combine(Folder, name), overwrite: true);
        foreach (var old in Directory.GetFiles(Folder, $"{Beginning}*{Ending}").OrderDescending(StringComparer.Ordinal).Skip(settings.Keep))
        {
            File.Delete(old);
        }

        return new BackUpFile(name, new FileInfo(Path.Combine(Folder, name)).Length);
    }

    // It holds names and addresses: nobody else of this machine reads it. What a killed process left is begun anew.
    private static void Prepare(string part)
    {
        File.Delete(part);
        if (OperatingSystem.IsWindows())
        {
            return;
        }

        new FileStream(part, new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write, UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite }).Dispose();
    }

    private static string? Fault(string file)
    {
        using var copy = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = file, Mode = SqliteOpenMode.ReadOnly, Pooling = false }.ConnectionString);
        copy.Open();
        var found = copy.QueryFirst<string>(CheckSql);
        return string.Equals(found, "ok", StringComparison.OrdinalIgnoreCase) ? null : string.Create(CultureInfo.InvariantCulture, $"{found}");
    }
}
