using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Beats.Tests.Sweeps;

/// <summary>Recordings by seed: ordinary watches, and everything that is nasty.</summary>
public static class Scenes
{
    public static readonly int[] Frequencies = [18000, 19800, 21600, 25200, 28800, 36000];

    private static readonly (int Rate, int Bits)[] Formats = [(44100, 16), (48000, 16), (48000, 24), (96000, 24), (48000, 32)];

    /// <summary>A watch as it may come to a bench, drawn from the seed.</summary>
    public static Watch Watch(int vibrations, int seed)
    {
        var chance = new Chance(seed * 31 + 5);
        return new Watch
        {
            VibrationsPerHour = vibrations,
            RatePerDaySeconds = chance.Between(-1, 1) * (chance.Between(0, 1) < 0.2 ? 300 : 40),
            AmplitudeDegrees = chance.Between(190, 315),
            DriftDegrees = chance.Between(-6, 6),
            LiftAngleDegrees = Math.Round(chance.Between(48, 54)),
            BeatErrorMilliseconds = chance.Between(-1.5, 1.5),
            JitterMicroseconds = chance.Between(8, 20),
            WalkMicroseconds = chance.Between(0, 2),
            TockDecibels = chance.Between(-5, 5),
            UnlockingDecibels = chance.Between(-13, -5),
            ImpulseDecibels = chance.Between(-10, -5),
            Ringing = chance.Between(0.7, 1.4),
            Seed = seed,
        };
    }

    /// <summary>An ordinary recording of such a watch.</summary>
    public static Scene Ordinary(int vibrations, double decibels, double seconds, int seed)
    {
        var (rate, bits) = Formats[seed % Formats.Length];
        return new Scene
        {
            Watch = Watch(vibrations, seed),
            Seconds = seconds,
            SignalToNoiseDecibels = decibels,
            SampleRate = rate,
            Bits = bits,
            Float = bits == 32 && seed % 2 == 0,
            Seed = seed,
        };
    }

    /// <summary>What must never be answered confidently and wrong, by name.</summary>
    public static IReadOnlyDictionary<string, Func<int, Scene>> Nasty { get; } = new Dictionary<string, Func<int, Scene>>
    {
        ["second watch as loud"] = seed => WithSecond(seed, 0, new Chance(seed).Between(-60, 60)),
        ["second watch as loud, nearly the same rate"] = seed => WithSecond(seed, 0, 0.5),
        ["second watch 6 to 20 dB quieter"] = seed => WithSecond(seed, -new Chance(seed).Between(6, 20), new Chance(seed + 1).Between(-60, 60)),
        ["second watch 6 to 20 dB quieter, nearly the same rate"] = seed => WithSecond(seed, -new Chance(seed).Between(6, 20), new Chance(seed + 1).Between(-3, 3)),
        ["second watch of another frequency"] = seed => Base(seed) with { Second = new SecondWatch(Watch(Frequencies[(seed + 1 + seed / 6 % 5) % 6], seed + 50_000), -3, 0.3) },
        ["36 000 with long ringing"] = seed => Base(seed, 36000) is var one ? one with { Watch = one.Watch! with { Ringing = 4 } } : throw new InvalidOperationException(),
        ["swinging amplitude"] = seed => Base(seed) is var one ? one with { Watch = one.Watch! with { SwingDegrees = 12, AmplitudeDegrees = Math.Min(300, one.Watch!.AmplitudeDegrees) } } : throw new InvalidOperationException(),
        ["strong impulse"] = seed => Base(seed) is var one ? one with { Watch = one.Watch! with { ImpulseDecibels = -1 } } : throw new InvalidOperationException(),
        ["weak unlocking"] = seed => Base(seed) is var one ? one with { Watch = one.Watch! with { UnlockingDecibels = -20 } } : throw new InvalidOperationException(),
        ["tocks 14 dB quieter"] = seed => Base(seed) is var one ? one with { Watch = one.Watch! with { TockDecibels = -14 } } : throw new InvalidOperationException(),
        ["large beat error"] = seed => Base(seed) is var one ? one with { Watch = one.Watch! with { BeatErrorMilliseconds = 6 } } : throw new InvalidOperationException(),
        ["low amplitude"] = seed => Base(seed) is var one ? one with { Watch = one.Watch! with { AmplitudeDegrees = 150 } } : throw new InvalidOperationException(),
        ["quartz"] = seed => Base(seed) with { Watch = Watch(3600, seed) with { AmplitudeDegrees = 280, RatePerDaySeconds = 0.2, WalkMicroseconds = 0, BeatErrorMilliseconds = 0 } },
        ["silence"] = seed => new Scene { Watch = null, SignalToNoiseDecibels = 20, Seed = seed },
        ["voice alone"] = seed => new Scene { Watch = null, SignalToNoiseDecibels = 20, SpeechDecibels = 10, Seed = seed },
        ["voice over the watch"] = seed => Base(seed) with { SpeechDecibels = 0 },
        ["14 400"] = seed => Base(seed, 14400),
        ["8 bit"] = seed => Base(seed) with { Bits = 8, Float = false },
        ["32 bit float"] = seed => Base(seed) with { Bits = 32, Float = true },
        ["antiphase"] = seed => Base(seed) with { Stereo = Stereo.Antiphase },
        ["watch on the right channel alone"] = seed => Base(seed) with { Stereo = Stereo.WatchOnRight },
        ["clipped by 14 dB"] = seed => Base(seed) with { ClippedByDecibels = 14, Bits = 16, Float = false },
        ["hum 30 dB above the drops"] = seed => Base(seed) with { HumDecibels = 30, Bits = 24, Float = false },
        ["offset"] = seed => Base(seed) with { Offset = 0.3 },
        ["clicks"] = seed => Base(seed) with { ClicksPerSecond = 3 },
        ["no noise at all"] = seed => Base(seed) with { SignalToNoiseDecibels = 90 },
    };

    private static Scene Base(int seed, int? vibrations = null) => Ordinary(vibrations ?? Frequencies[seed % 6], 30, 30, seed);

    private static Scene WithSecond(int seed, double decibels, double perDay)
    {
        var one = Base(seed);
        var chance = new Chance(seed + 9);
        var other = Watch(one.Watch!.VibrationsPerHour, seed + 50_000) with { RatePerDaySeconds = one.Watch.RatePerDaySeconds + perDay };
        return one with { Second = new SecondWatch(other, decibels, chance.Between(0, 1)) };
    }
}
