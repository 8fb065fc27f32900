using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Beats.Tests.Sweeps;

/// <summary>All recordings that the targets are judged by; made and listened to once.</summary>
public sealed class TargetScores
{
    private readonly Func<int, int> seeds;
    private int next;

    /// <summary>By the test seeds; no number here was used in tuning.</summary>
    public TargetScores() : this(Seeds.Test)
    {
    }

    private TargetScores(Func<int, int> seeds)
    {
        this.seeds = seeds;
        Clean = Make(48, 30, 20, 35);
        Fair = Make(36, 30, 12, 20);
        Poor = Make(36, 30, 6, 12);
        Bad = Make(36, 30, 0, 6);
        Hopeless = Make(18, 30, -12, 0);
        Short = Make(24, 10, 20, 35);
        Long = Make(12, 60, 20, 35);
        Nasty = Scenes.Nasty.ToDictionary(one => one.Key, one => Score.OfAll(Enumerable.Range(0, 6).Select(n => one.Value(seeds(5000 + n)))));
    }

    public Score[] Clean { get; }

    public Score[] Fair { get; }

    public Score[] Poor { get; }

    public Score[] Bad { get; }

    public Score[] Hopeless { get; }

    public Score[] Short { get; }

    public Score[] Long { get; }

    public Dictionary<string, Score[]> Nasty { get; }

    /// <summary>The same recordings by other seeds, for trying things out.</summary>
    public static TargetScores Of(Func<int, int> seeds) => new(seeds);

    /// <summary>The classes of the targets by name.</summary>
    public IReadOnlyDictionary<string, Score[]> Classes => new Dictionary<string, Score[]>
    {
        ["30 s, 20 to 35 dB"] = Clean,
        ["30 s, 12 to 20 dB"] = Fair,
        ["30 s, 6 to 12 dB"] = Poor,
        ["30 s, 0 to 6 dB"] = Bad,
        ["30 s, -12 to 0 dB"] = Hopeless,
        ["10 s, 20 to 35 dB"] = Short,
        ["60 s, 20 to 35 dB"] = Long,
    };

    public IEnumerable<Score> Ordinary => [.. Clean, .. Fair, .. Poor, .. Bad, .. Hopeless, .. Short, .. Long];

    // Frequencies in turn, the ratio drawn evenly from its class.
    private Score[] Make(int count, double seconds, double least, double most) => Score.OfAll(Enumerable.Range(next, count).Select(n =>
    {
        next = n + 1;
        var seed = seeds(n);
        return Scenes.Ordinary(Scenes.Frequencies[n % 6], new Chance(seed).Between(least, most), seconds, seed);
    }).ToArray());
}
