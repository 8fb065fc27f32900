namespace Workshop.Benchmarks;

/// <summary>What a folder is kept on.</summary>
internal static class Medium
{
    // Whatever is written there is gone when the power is: a commit costs nothing and proves nothing.
    private static readonly string[] InMemory = ["tmpfs", "ramfs"];

    /// <summary>The file system below a folder, for example <c>ext4</c>.</summary>
    /// <param name="folder">Need not be there yet.</param>
    public static string FileSystemOf(string folder)
    {
        var there = new DirectoryInfo(Path.GetFullPath(folder));
        while (!there.Exists && there.Parent is { } parent)
        {
            there = parent;
        }

        return new DriveInfo(there.FullName).DriveFormat;
    }

    /// <summary>Why nothing durable can be measured there, or null.</summary>
    public static string? Refusal(string folder) => FileSystemOf(folder) is var kind && InMemory.Contains(kind)
        ? $"'{folder}' lies on {kind}, which is memory: nothing written there is durable. Name a folder on a disk with --data."
        : null;
}
