namespace Workshop.Beats.Recordings;

/// <summary>How large and how long a recording may be.</summary>
/// <param name="Bytes">Bytes of the whole file, counted while it is read.</param>
/// <param name="ShortestSeconds">A shorter one is refused.</param>
/// <param name="LongestSeconds">A longer one is refused.</param>
public sealed record RecordingLimits(long Bytes, double ShortestSeconds, double LongestSeconds)
{
    /// <summary>40 MiB, 5 s to 60 s.</summary>
    public static readonly RecordingLimits Usual = new(40L * 1024 * 1024, 5, 60);
}
