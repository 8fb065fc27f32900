using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Beats.Tests.Sweeps;

/// <summary>All recordings of the test seeds that the targets are judged by; made and listened to once. No number here was used in tuning.</summary>
public sealed class TargetScores
{
    private int next;

    public TargetScores()
    {
        Clean = Make(48, 30, 20, 35);
        Fair = Make(36, 30, 12, 20);
        Poor = Make(36, 30, 6, 12);
        Bad = Make(36, 30, 0, 6);
        Hopeless = Make(18, 30, -12, 0);
        Short = Make(24, 10, 20, 35);
        Long = Make(12, 60, 20, 35);
        Nasty = Scenes.Nasty.ToDictionary(one => one.Key, one => Score.OfAll(Enumerable.Range(0, 6).Select(n => one.Value(Seeds.Test(5000 + n)))));
    }

    public Score[] Clean { get; }

    public Score[] Fair { get; }

    public Score[] Poor { get; }

    public Score[] Bad { get; }

    public Score[] Hopeless { get; }

    public Score[] Short { get; }

    public Score[] Long { get; }

    public Dictionary<string, Score[]> Nasty { get; }

    public IEnumerable<Score> Ordinary => [.. Clean, .. Fair, .. Poor, .. Bad, .. Hopeless, .. Short, .. Long];

    // Frequencies in turn, the ratio drawn evenly from its class.
    private Score[] Make(int count, double seconds, double least, double most) => Score.OfAll(Enumerable.Range(next, count).Select(n =>
    {
        next = n + 1;
        var seed = Seeds.Test(n);
        return Scenes.Ordinary(Scenes.Frequencies[n % 6], new Chance(seed).Between(least, most), seconds, seed);
    }).ToArray());
}
