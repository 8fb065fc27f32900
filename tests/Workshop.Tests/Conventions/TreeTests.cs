namespace Workshop.Tests.Conventions;

public class TreeTests
{
    private static readonly HashSet<string> TopLevel =
        ["src", "tests", "api-docs", "README.md", "DEVELOPERS.md", "Workshop.sln", "Dockerfile"];

    // Not in the repository: .gitignore names it.
    private const string KeptByARunningProgram = "data";

    [Fact]
    public void The_top_level_holds_what_a_newcomer_needs_and_nothing_else()
    {
        var found = Repository.Root.EnumerateFileSystemInfos()
            .Select(entry => entry.Name)
            .Where(name => !name.StartsWith('.'))
            .Where(name => name != KeptByARunningProgram);

        Assert.Empty(found.Except(TopLevel));
    }
}
