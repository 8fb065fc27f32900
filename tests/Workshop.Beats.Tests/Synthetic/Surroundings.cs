namespace Workshop.Beats.Tests.Synthetic;

/// <summary>What else a microphone hears, and the band in which a signal-to-noise ratio is defined.</summary>
public static class Surroundings
{
    private const int Taps = 255;

    /// <summary>Noise of a microphone: white, with a part that grows towards low tones.</summary>
    public static double[] Noise(int length, Chance chance)
    {
        var noise = new double[length];
        double low = 0;
        for (var i = 0; i < length; i++)
        {
            low = 0.98 * low + 0.3 * chance.Normal();
            noise[i] = chance.Normal() + low;
        }

        return noise;
    }

    /// <summary>50 Hz with seven harmonics, RMS 1.</summary>
    public static void AddHum(double[] samples, double rate, double level, Chance chance)
    {
        var phases = Enumerable.Range(0, 8).Select(_ => chance.Between(0, 2 * Math.PI)).ToArray();
        var norm = level * Math.Sqrt(2 / Enumerable.Range(1, 8).Sum(h => 1.0 / (h * h)));
        for (var i = 0; i < samples.Length; i++)
        {
            for (var h = 1; h <= 8; h++)
            {
                samples[i] += norm / h * Math.Sin(2 * Math.PI * 50 * h * i / rate + phases[h - 1]);
            }
        }
    }

    /// <summary>Short clicks at moments of their own, up to eight times as loud as a drop.</summary>
    public static void AddClicks(double[] samples, double rate, double perSecond, double level, Chance chance)
    {
        for (var n = (int)(perSecond * samples.Length / rate); n > 0; n--)
        {
            var at = chance.Index(samples.Length);
            var loud = level * chance.Between(1, 8);
            var hertz = chance.Between(1000, 9000);
            for (var i = 0; i < 0.002 * rate && at + i < samples.Length; i++)
            {
                samples[at + i] += loud * Math.Exp(-i / (0.0003 * rate)) * Math.Sin(2 * Math.PI * hertz * i / rate);
            }
        }
    }

    /// <summary>Like a voice: harmonics of a wandering tone under a slow envelope, and hissing consonants; RMS of the loud parts about 1.</summary>
    public static void AddSpeech(double[] samples, double rate, double level, Chance chance)
    {
        var at = 0;
        while (at < samples.Length)
        {
            var length = (int)(chance.Between(0.08, 0.35) * rate);
            var tone = chance.Between(95, 240);
            var formants = new[] { chance.Between(300, 900), chance.Between(900, 2400), chance.Between(2400, 3500) };
            var hiss = chance.Between(0, 1) < 0.3;
            var pause = chance.Between(0, 1) < 0.25;
            double last = 0;
            for (var i = 0; i < length && at + i < samples.Length && !pause; i++)
            {
                var envelope = Math.Sin(Math.PI * i / length);
                if (hiss)
                {
                    var white = chance.Normal();
                    samples[at + i] += 0.35 * level * envelope * (white - last);
                    last = white;
                    continue;
                }

                for (var h = 1; h * tone < 4000; h++)
                {
                    var weight = formants.Sum(f => 1 / (1 + Math.Pow((h * tone - f) / 150, 2))) / (1 + 0.1 * h);
                    samples[at + i] += level * envelope * weight * Math.Sin(2 * Math.PI * h * tone * (1 + 0.03 * i / length) * i / rate);
                }
            }

            at += length;
        }
    }

    /// <summary>A windowed-sinc band from 1.5 to 14 kHz, without delay.</summary>
    public static double[] Band(double[] samples, double rate)
    {
        var middle = Taps / 2;
        var taps = new double[Taps];
        for (var k = 0; k < Taps; k++)
        {
            var x = k - middle;
            var window = 0.42 - 0.5 * Math.Cos(2 * Math.PI * k / (Taps - 1)) + 0.08 * Math.Cos(4 * Math.PI * k / (Taps - 1));
            taps[k] = window * (Sinc(2 * 14_000 / rate, x) - Sinc(2 * 1500 / rate, x));
        }

        var band = new double[samples.Length];
        for (var i = 0; i < samples.Length; i++)
        {
            for (var k = Math.Max(0, i - samples.Length + 1 + middle); k < Math.Min(Taps, i + middle + 1); k++)
            {
                band[i] += taps[k] * samples[i + middle - k];
            }
        }

        return band;
    }

    private static double Sinc(double width, int x) => x == 0 ? width : Math.Sin(Math.PI * width * x) / (Math.PI * x);
}
