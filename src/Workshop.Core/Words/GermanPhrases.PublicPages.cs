namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What customers read of their watch.</summary>
    private static Dictionary<string, string> PublicPages => new()
    {
    };
}
