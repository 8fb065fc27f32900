using System.Buffers.Binary;
using System.Text;
using Workshop.Core.Timekeeping;

namespace Workshop.Service.Demo;

/// <summary>How a watch of the demo sounds at a contact microphone: nothing but three noises a beat and some hiss. It shows the way, and proves nothing.</summary>
internal static class DemoSound
{
    private const int SampleRate = 44_100;
    private const double Seconds = 10;
    private const double Hiss = 0.004;

    // Seconds, and shares of the drop; an impulse sounds after a third of the lift.
    private const double Decay = 0.0003;
    private const double Unlocking = 0.35;
    private const double Impulse = 0.3;
    private const double ImpulseAt = 0.33;

    /// <summary>A WAV file: PCM, 16 bits, one channel.</summary>
    /// <param name="ratePerDay">Seconds gained a day.</param>
    /// <param name="beatError">Half the difference of the two half periods, milliseconds.</param>
    public static byte[] Of(int vibrationsPerHour, double liftAngleDegrees, double ratePerDay, double amplitudeDegrees, double beatError)
    {
        // The same sound each time.
        var chance = new Random(47);
        var samples = new double[(int)(SampleRate * Seconds)];
        for (var i = 0; i < samples.Length; i++)
        {
            samples[i] = Hiss * (chance.NextDouble() + chance.NextDouble() - 1);
        }

        var half = 1e-3 * BeatArithmetic.BeatMilliseconds(vibrationsPerHour) / (1 + ratePerDay / 86_400);
        var lift = 1e-3 * BeatArithmetic.UnlockingToDropMilliseconds(vibrationsPerHour, liftAngleDegrees, amplitudeDegrees);
        for (var beat = 0; (beat + 2) * half < Seconds; beat++)
        {
            // The balance is at rest in the middle of the lift; a tock comes later by the beat error.
            var entry = (beat + 0.5) * half + (beat % 2) * beatError * 1e-3 - lift / 2;
            var hertz = beat % 2 == 0 ? 6_300 : 7_100;
            Strike(samples, entry, Unlocking, hertz);
            Strike(samples, entry + ImpulseAt * lift, Impulse, hertz - 1_900);
            Strike(samples, entry + lift, 1, hertz - 700);
        }

        return File(samples);
    }

    private static void Strike(double[] samples, double at, double loud, double hertz)
    {
        for (var i = (int)Math.Ceiling(at * SampleRate); i < Math.Min(samples.Length, (at + 12 * Decay) * SampleRate); i++)
        {
            var since = (double)i / SampleRate - at;
            samples[i] += 0.6 * loud * Math.Exp(-since / Decay) * Math.Sin(2 * Math.PI * hertz * since);
        }
    }

    private static byte[] File(double[] samples)
    {
        const int head = 44;
        var file = new byte[head + 2 * samples.Length];
        void Text(int at, string text) => Encoding.ASCII.GetBytes(text, file.AsSpan(at));
        void Number(int at, int number) => BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(at), number);
        void Short(int at, int number) => BinaryPrimitives.WriteInt16LittleEndian(file.AsSpan(at), (short)number);
        Text(0, "RIFF");
        Number(4, file.Length - 8);
        Text(8, "WAVEfmt ");
        Number(16, 16);
        Short(20, 1);
        Short(22, 1);
        Number(24, SampleRate);
        Number(28, 2 * SampleRate);
        Short(32, 2);
        Short(34, 16);
        Text(36, "data");
        Number(40, 2 * samples.Length);
        for (var i = 0; i < samples.Length; i++)
        {
            Short(head + 2 * i, (int)Math.Round(Math.Clamp(samples[i], -1, 1) * short.MaxValue));
        }

        return file;
    }
}
