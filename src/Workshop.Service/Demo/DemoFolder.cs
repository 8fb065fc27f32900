using System.Text.Json;
using NodaTime;
using Workshop.Core.Words;
using Workshop.Service.Http.Keys;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>
/// The folder of a demo. A file in it says that it is one: without that file nothing in it is touched, since it may be
/// somebody's real workshop. The file also holds the demo's keys, so that they stay the same from one start to the next.
/// </summary>
internal static class DemoFolder
{
    private const string MarkName = "demo.json";

    private static readonly (Role Role, string Source, string? Bench)[] Places =
    [
        (Role.Desk, "/desk/front", null),
        (Role.Bench, "/devices/bench-1/1", "bench-1"),
        (Role.Manager, "/desk/office", null),
        (Role.Storefront, "/storefront/shop", null),
        (Role.Wall, "/devices/wall/1", null),
    ];

    /// <summary>Makes the folder ready to be used.</summary>
    /// <returns>Whether the demo begins anew.</returns>
    /// <exception cref="SettingException">It holds a workshop that is no demo.</exception>
    public static bool Prepare(string folder, bool fresh)
    {
        var mark = Path.Combine(folder, MarkName);
        var database = Path.Combine(folder, Database.FileName);
        if (File.Exists(database) && !File.Exists(mark))
        {
            throw new SettingException($"--data is '{folder}', which holds a workshop that is no demo; the demo needs a folder of its own.");
        }

        if (fresh && File.Exists(mark))
        {
            foreach (var file in (string[])[database, $"{database}-wal", $"{database}-shm", mark])
            {
                File.Delete(file);
            }
        }

        Directory.CreateDirectory(folder);
        return !File.Exists(mark);
    }

    /// <summary>The demo's keys by role: those of an earlier start, or new ones.</summary>
    public static async Task<IReadOnlyDictionary<string, string>> Keys(string folder, ApiKeys keys, Instant now, CancellationToken cancel)
    {
        var mark = Path.Combine(folder, MarkName);
        if (File.Exists(mark) && JsonSerializer.Deserialize<Mark>(await File.ReadAllTextAsync(mark, cancel), WorkshopJson.Options) is { } kept)
        {
            return kept.Keys;
        }

        var made = Places.ToDictionary(place => Word.Of(place.Role), place => keys.Add(Migrations.FirstSite, place.Source, Word.Of(place.Role), place.Bench, now).Secret);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        await using var file = new FileStream(mark, options);
        await JsonSerializer.SerializeAsync(file, new Mark(made), WorkshopJson.Options, cancel);
        return made;
    }

    private sealed record Mark(IReadOnlyDictionary<string, string> Keys);
}
