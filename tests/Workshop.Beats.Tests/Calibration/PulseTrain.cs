using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Beats.Tests.Calibration;

/// <summary>Records the short rings of an even source. Nothing of the program under test is used here.</summary>
public static class PulseTrain
{
    /// <param name="ppm">By how much the recorder's converter runs fast.</param>
    /// <param name="decibels">Of a ring at its beginning against the noise's RMS.</param>
    /// <param name="lost">Every so many-th pulse is missing; 0 for none.</param>
    /// <param name="jitterMicroseconds">Of the source, standard deviation.</param>
    public static byte[] Record(
        double ppm, double seconds = 60, double interval = 1, int sampleRate = 48_000, double decibels = 40, int seed = 1, int lost = 0, double jitterMicroseconds = 0, double first = 0.37)
    {
        var chance = new Chance(seed);
        var rate = sampleRate * (1 + ppm * 1e-6);
        var samples = new double[(int)(seconds * sampleRate)];
        var number = 0;
        for (var at = first; at * rate < samples.Length; at = first + ++number * interval)
        {
            if (lost > 0 && number % lost == lost - 1)
            {
                continue;
            }

            Ring(samples, at + jitterMicroseconds * 1e-6 * chance.Normal(), rate);
        }

        var noise = Math.Pow(10, -decibels / 20);
        for (var i = 0; i < samples.Length; i++)
        {
            samples[i] += noise * chance.Normal();
        }

        return WavFile.Write(new Scene { SampleRate = sampleRate, Seconds = seconds, Seed = seed }, samples);
    }

    // 4 kHz that dies away within a millisecond.
    private static void Ring(double[] samples, double at, double rate)
    {
        for (var i = (int)Math.Ceiling(at * rate); i < Math.Min(samples.Length, (at + 0.01) * rate); i++)
        {
            var since = i / rate - at;
            samples[i] += Math.Exp(-since / 0.7e-3) * Math.Sin(2 * Math.PI * 4000 * since);
        }
    }
}
