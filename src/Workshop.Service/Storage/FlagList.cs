using System.Collections.Immutable;

namespace Workshop.Service.Storage;

/// <summary>The flags of an entry as one column: words with blanks between.</summary>
internal static class FlagList
{
    public static ImmutableArray<string> Read(string column) => column.Length == 0 ? [] : [.. column.Split(' ')];
}
