namespace Workshop.Beats.Tests.Synthetic;

/// <summary>A recording as a file, and the truth about it; null where no watch sounds.</summary>
public sealed record Taken(byte[] File, Truth? Truth);

/// <summary>Plays a scene and records it. Nothing of the program under test is used here.</summary>
public static class Recorder
{
    public static Taken Take(Scene scene)
    {
        var (samples, truth) = Play(scene);
        return new Taken(WavFile.Write(scene, samples), truth);
    }

    private static (double[] Samples, Truth? Truth) Play(Scene scene)
    {
        var chance = new Chance(scene.Seed);
        var length = (int)(scene.Seconds * scene.SampleRate);

        // A fast converter takes more samples in a second of true time.
        var fileRate = scene.SampleRate * (1 + scene.ClockPpm * 1e-6);
        var samples = new double[length];
        var sound = new WatchSound(scene.Watch ?? new Watch(), fileRate);
        var drop = DropLevel(sound, fileRate);
        var truth = scene.Watch is { } watch ? sound.Play(samples, chance.Between(0.05, 0.05 + 3600.0 / watch.VibrationsPerHour), 1, chance) : null;
        if (scene.Second is { } second)
        {
            var other = new WatchSound(second.Watch, fileRate);
            var level = Math.Pow(10, second.Decibels / 20) * drop / DropLevel(other, fileRate);
            other.Play(samples, 0.02 + (1 + second.PhaseShare) * 3600.0 / second.Watch.VibrationsPerHour, level, chance);
        }

        AddNoise(samples, scene, drop, fileRate, chance);
        if (scene.HumDecibels is { } hum)
        {
            Surroundings.AddHum(samples, fileRate, drop * Math.Pow(10, hum / 20), chance);
        }

        if (scene.ClicksPerSecond > 0)
        {
            Surroundings.AddClicks(samples, fileRate, scene.ClicksPerSecond, drop, chance);
        }

        if (scene.SpeechDecibels is { } speech)
        {
            Surroundings.AddSpeech(samples, fileRate, drop * Math.Pow(10, speech / 20), chance);
        }

        return (samples, truth);
    }

    /// <summary>RMS of a drop over its first 2 ms between 1.5 and 14 kHz, tick and tock together.</summary>
    private static double DropLevel(WatchSound sound, double rate)
    {
        var from = (int)(WatchSound.DropBeginsSeconds * rate);
        var count = (int)(0.002 * rate);
        return Math.Sqrt(sound.Drops().Average(one => Surroundings.Band(one, rate).Skip(from).Take(count).Average(sample => sample * sample)));
    }

    private static void AddNoise(double[] samples, Scene scene, double drop, double rate, Chance chance)
    {
        var noise = Surroundings.Noise(samples.Length, chance);
        var heard = Surroundings.Band(noise[..Math.Min(noise.Length, (int)(0.2 * rate))], rate);
        var level = Math.Sqrt(heard.Average(sample => sample * sample));
        var factor = drop / level * Math.Pow(10, -scene.SignalToNoiseDecibels / 20);
        for (var i = 0; i < samples.Length; i++)
        {
            samples[i] += factor * noise[i];
        }
    }
}
