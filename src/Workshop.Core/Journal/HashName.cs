namespace Workshop.Core.Journal;

/// <summary>How a photo or a recording is named: by the SHA-256 of its bytes as they were sent, so that the same again is the same.</summary>
public static class HashName
{
    private const int Digits = 64;

    /// <summary>Whether this is such a name: 64 hexadecimal digits, letters small.</summary>
    public static bool Is(string? name) => name is { Length: Digits } && !name.AsSpan().ContainsAnyExcept("0123456789abcdef");
}
