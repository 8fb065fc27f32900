namespace Workshop.Tests.Conventions;

/// <summary>Where the working copy under test lies.</summary>
public static class Repository
{
    /// <summary>The folder of Workshop.sln, looked for upwards from the built test.</summary>
    public static DirectoryInfo Root { get; } = Find();

    private static DirectoryInfo Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Workshop.sln")))
            {
                return folder;
            }
        }

        throw new InvalidOperationException($"No Workshop.sln in any folder above {AppContext.BaseDirectory}.");
    }
}
