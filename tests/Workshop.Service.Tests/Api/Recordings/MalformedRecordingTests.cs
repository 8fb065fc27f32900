using System.Diagnostics;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Beats.Tests.Synthetic;
using Workshop.Service.Settings;
using Workshop.Service.Tests.Api.Jobs;

namespace Workshop.Service.Tests.Api.Recordings;

/// <summary>Files that strangers made, through the door: each is answered, quickly, and none is left behind.</summary>
public class MalformedRecordingTests
{
    private const int MostMilliseconds = 100;

    [Fact]
    public async Task Three_hundred_damaged_files_are_each_answered_in_a_tenth_of_a_second_and_never_a_failure_of_the_service()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        byte[][] whole =
        [
            Sounds.Of(new Scene { Seconds = 5, SampleRate = 32000, SignalToNoiseDecibels = 20 }),
            Sounds.Of(new Scene { Seconds = 5, SampleRate = 32000, Bits = 24, Stereo = Stereo.Same, Extensible = true }),
            Sounds.Of(new Scene { Seconds = 5, SampleRate = 32000, Bits = 32, Float = true, Extensible = true }),
        ];
        var chance = new Chance(31_007);
        var codes = new Dictionary<string, int>();
        for (var n = 0; n < 300; n++)
        {
            var code = await AnsweredInTime(host, job, Damaged(whole[n % whole.Length], chance));
            codes[code] = codes.GetValueOrDefault(code) + 1;
        }

        // A test whose files were all still whole would show nothing.
        Assert.True(codes.Count >= 8, string.Join(", ", codes));
        var kept = await host.QueryFirst<long>("select count(*) from recording");
        Assert.Equal(kept, Directory.GetFiles(host.Services.GetRequiredService<RecordingSettings>().Folder, "*", SearchOption.AllDirectories).Length);
    }

    [Fact]
    public async Task Each_fault_of_a_file_has_its_status_and_code()
    {
        await using var host = await WorkshopHost.Start(set: new Dictionary<string, string?> { ["Limits:RecordingBytes"] = "2000000" });
        var job = await host.TakeIn();
        var hiss = new byte[6 * 32_000];
        new Random(5).NextBytes(hiss);
        var fmt = WavFile.Description(1, 32_000, 8);
        byte[] Wave(params byte[][] chunks) => [.. "RIFF"u8, .. new byte[4], .. "WAVE"u8, .. chunks.SelectMany(one => one)];
        var number = new byte[6 * 32_000 * 4];
        BitConverter.TryWriteBytes(number.AsSpan(400), float.NaN);
        (byte[] File, int Status, string Code)[] faults =
        [
            ([], 400, "empty"),
            ("OggS and more of it"u8.ToArray(), 415, "not-wav"),
            ([.. "RIFX"u8, .. WavFile.Of(fmt, hiss)[4..]], 415, "not-wav"),
            (WavFile.Of(WavFile.Description(1, 32_000, 8, encoding: 2), hiss), 415, "unsupported-encoding"),
            (Wave(WavFile.Chunk("fmt ", fmt[..10]), WavFile.Chunk("data", hiss)), 422, "bad-fmt"),
            (Wave(WavFile.Chunk("data", hiss), WavFile.Chunk("fmt ", fmt)), 422, "no-fmt"),
            (Wave(WavFile.Chunk("fmt ", fmt)), 422, "no-data"),
            (WavFile.Of(WavFile.Description(3, 32_000, 8), hiss), 422, "bad-channels"),
            (WavFile.Of(WavFile.Description(1, 8_000, 8), hiss), 422, "bad-sample-rate"),
            (WavFile.Of(WavFile.Description(1, 32_000, 12), hiss), 422, "bad-bits"),
            (WavFile.Of(WavFile.Description(1, 32_000, 8, frame: 4), hiss), 422, "bad-block-align"),
            (Wave(WavFile.Chunk("fmt ", fmt), WavFile.Chunk("data", hiss, 1_000_000)), 422, "truncated"),
            (Wave([.. Enumerable.Repeat(WavFile.Chunk("junk", []), 1001), WavFile.Chunk("fmt ", fmt), WavFile.Chunk("data", hiss)]), 422, "too-many-chunks"),
            (WavFile.Of(fmt, hiss[..100_000]), 422, "too-short"),
            (WavFile.Of(fmt, new byte[61 * 32_000 - 100_000]), 422, "silence"),
            (WavFile.Of(fmt, new byte[61 * 32_000]), 422, "too-long"),
            (WavFile.Of(fmt, new byte[6 * 32_000]), 422, "silence"),
            (WavFile.Of(WavFile.Description(1, 32_000, 32, isFloat: true), number), 422, "non-finite-samples"),
            (new byte[2_000_001], 413, "too-large"),
        ];

        foreach (var (file, status, code) in faults)
        {
            var problem = await (await host.Bench.PutRecording(job, file)).Problem();
            Assert.Equal((status, code), (problem.Status, problem.Code));
        }

        // A recorder that cannot go back to write the size writes this; what follows is the sound.
        using var streamed = await host.Bench.PutRecording(job, Wave(WavFile.Chunk("fmt ", fmt), WavFile.Chunk("data", hiss, 0xFFFFFFFF)));
        Assert.Contains("streamed-sizes", (await streamed.Json()).GetProperty("reading").GetProperty("reasons").EnumerateArray().Select(one => one.Text("reason")));
        Assert.Equal(1, await host.QueryFirst<long>("select count(*) from recording"));
    }

    // The machine may be busy elsewhere for a moment; what is slow by itself is slow each time. What can be listened to is, and takes its own time.
    private static async Task<string> AnsweredInTime(WorkshopHost host, string job, byte[] file)
    {
        for (var attempt = 1; ; attempt++)
        {
            var watch = Stopwatch.StartNew();
            using var answer = await host.Bench.PutRecording(job, file);
            var took = watch.ElapsedMilliseconds;
            if (answer.IsSuccessStatusCode)
            {
                return (await answer.Json()).Text("state");
            }

            var problem = await answer.Problem();
            Assert.InRange(problem.Status, 400, 499);
            if (took <= MostMilliseconds)
            {
                return problem.Code;
            }

            Assert.True(attempt < 8, $"{problem.Code} took {took} ms.");
        }
    }

    private static byte[] Damaged(byte[] whole, Chance chance)
    {
        var file = whole.ToArray();
        switch (chance.Index(6))
        {
            case 0:
                return file[..chance.Index(file.Length)];
            case 1:
                return file[..chance.Index(80)];
            case 2:
                file[chance.Index(44)] = (byte)chance.Index(256);
                return file;
            case 3:
                Enumerable.Range(0, 5).ToList().ForEach(_ => file[chance.Index(60)] ^= (byte)(1 << chance.Index(8)));
                return file;
            case 4:
                Array.Fill(file, (byte)255, 4 * chance.Index(15), 4);
                return file;
            default:
                var at = chance.Index(60);
                return [.. file[..at], .. new byte[1 + chance.Index(9)], .. file[at..]];
        }
    }
}
