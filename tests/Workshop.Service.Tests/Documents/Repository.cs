namespace Workshop.Service.Tests.Documents;

/// <summary>The working copy under test.</summary>
internal static class Repository
{
    /// <summary>The folder of Workshop.sln, looked for upwards from the built tests.</summary>
    public static string Root { get; } = Find();

    public static string Read(params string[] path) => File.ReadAllText(Path.Combine([Root, .. path]));

    /// <summary>Every file of ours under these folders that a person writes, with its path from the root.</summary>
    public static IEnumerable<(string Path, string Text)> Files(params string[] folders) => folders
        .Select(folder => Path.Combine(Root, folder))
        .Where(Directory.Exists)
        .SelectMany(folder => Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories))
        .Select(file => Path.GetRelativePath(Root, file).Replace('\\', '/'))
        .Where(file => !file.Split('/').Any(part => part is "bin" or "obj" or "node_modules" or "TestResults" or "data"))
        .Where(file => Path.GetExtension(file) is ".cs" or ".csproj" or ".props" or ".txt" or ".json" or ".sql" or ".md" or ".http" or ".html" or ".css" or ".js")
        .Select(file => (file, File.ReadAllText(Path.Combine(Root, file))));

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Workshop.sln")))
            {
                return folder.FullName;
            }
        }

        throw new InvalidOperationException($"No Workshop.sln in any folder above {AppContext.BaseDirectory}.");
    }
}
