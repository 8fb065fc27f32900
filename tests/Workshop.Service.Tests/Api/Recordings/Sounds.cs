using System.Collections.Concurrent;
using System.Security.Cryptography;
using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Service.Tests.Api.Recordings;

/// <summary>Recordings whose truth is known, made once; and how a bench sends one.</summary>
internal static class Sounds
{
    private static readonly ConcurrentDictionary<Scene, byte[]> Made = new();

    /// <summary>A quiet bench, ten seconds, 28 800, four seconds a day fast.</summary>
    public static Scene Watch(double rate = 4, int vibrations = 28_800, double ppm = 0, int seed = 1, double seconds = 10) => new()
    {
        Watch = new Watch { RatePerDaySeconds = rate, VibrationsPerHour = vibrations, Seed = seed },
        Seconds = seconds,
        SignalToNoiseDecibels = 34,
        ClockPpm = ppm,
        Seed = seed,
    };

    public static byte[] Of(Scene scene) => Made.GetOrAdd(scene, one => Recorder.Take(one).File);

    public static string HashOf(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    /// <summary>More than a minute at 48 kHz in stereo; nothing but hiss.</summary>
    public static byte[] LongHiss(int seed = 1)
    {
        var chance = new Random(seed);
        var samples = new byte[31 * 96_000 * 2];
        chance.NextBytes(samples);
        return WavFile.Of(WavFile.Description(2, 96_000, 8), samples);
    }

    public static Task<HttpResponseMessage> PutRecording(this HttpClient client, string job, byte[] bytes, string told = "position=dial-up&windState=full", string? name = null)
    {
        var content = new ByteArrayContent(bytes);
        content.Headers.ContentType = new("audio/wav");
        return client.PutAsync($"/v1/jobs/{job}/recordings/{name ?? HashOf(bytes)}?{told}", content);
    }
}
