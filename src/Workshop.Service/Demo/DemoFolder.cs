using System.Text.Json;
using Dapper;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>
/// The folder of a demo. A file in it says that it is one, and the workshop in it has a name that begins with DEMO: without both, nothing
/// in it is touched, since it may be somebody's real workshop. The file also holds the demo's keys, so that they stay the same from one
/// start to the next.
/// </summary>
internal static class DemoFolder
{
    public const string MarkName = "demo.json";

    /// <summary>With this begins the name of a demo's workshop.</summary>
    public const string NamePrefix = "DEMO";

    private const string NamesSql = """
        select name
        from site
        """;

    // A demo lies in a file of SQLite, never on PostgreSQL.
    private const string HasSitesSql = """
        select count(*)
        from sqlite_master
        where type = 'table'
          and name = 'site'
        """;

    /// <summary>Makes the folder ready to be used.</summary>
    /// <param name="fresh">Throw away what an earlier demo left.</param>
    /// <returns>The keys of an earlier demo that goes on; null where it begins anew.</returns>
    /// <exception cref="SettingException">It holds a workshop that is no demo, or a demo that is running.</exception>
    public static IReadOnlyDictionary<string, string>? Prepare(string folder, bool fresh)
    {
        var mark = Path.Combine(folder, MarkName);
        var database = Path.Combine(folder, Database.FileName);
        if (File.Exists(database) && !(File.Exists(mark) && IsDemo(folder)))
        {
            throw new SettingException($"--data is '{folder}', which holds a workshop that is no demo; the demo needs a folder of its own.");
        }

        Directory.CreateDirectory(folder);
        if (Read(mark) is { Complete: true } kept && File.Exists(database) && !fresh)
        {
            return kept.Keys;
        }

        // Also where the last start was broken off before anybody was told a key: nothing in it can be missed.
        MustNotRun(folder);
        foreach (var file in (string[])[database, $"{database}-wal", $"{database}-shm", mark])
        {
            File.Delete(file);
        }

        Write(mark, new Mark(new Dictionary<string, string>(), Complete: false));
        return null;
    }

    /// <summary>The demo is built: it may go on from here at the next start.</summary>
    public static void Complete(string folder, IReadOnlyDictionary<string, string> keys) => Write(Path.Combine(folder, MarkName), new Mark(keys, Complete: true));

    private static bool IsDemo(string folder)
    {
        using var database = new Database(new StorageSettings { Path = folder });
        using var connection = database.OpenReader();
        return connection.QuerySingle<long>(HasSitesSql) == 0
            || connection.Query<string>(NamesSql).All(name => name.StartsWith(NamePrefix, StringComparison.Ordinal));
    }

    private static void MustNotRun(string folder)
    {
        using var database = new Database(new StorageSettings { Path = folder });
        try
        {
            database.TakeLock();
        }
        catch (StorageNotReadyException)
        {
            throw new SettingException($"--data is '{folder}', where a demo is running; stop it first, or choose another folder.");
        }
    }

    private static Mark? Read(string mark)
    {
        try
        {
            return File.Exists(mark) ? JsonSerializer.Deserialize<Mark>(File.ReadAllText(mark), WorkshopJson.Options) : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private static void Write(string mark, Mark content)
    {
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        using var file = new FileStream(mark, options);
        JsonSerializer.Serialize(file, content, WorkshopJson.Options);
    }

    private sealed record Mark(IReadOnlyDictionary<string, string> Keys, bool Complete);
}
