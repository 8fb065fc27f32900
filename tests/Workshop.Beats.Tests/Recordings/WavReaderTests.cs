using System.Buffers.Binary;
using Workshop.Beats.Recordings;
using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Beats.Tests.Recordings;

public class WavReaderTests
{
    private const int Rate = 32000;
    private const int Seconds = 6;

    // Not the data of a theory: a runner would write these files out as text.
    private static (string Code, byte[] File)[] Refused =>
    [
        ("empty", []),
        ("not-wav", "It is Friday."u8.ToArray()),
        ("not-wav", [.. "RIFX"u8, .. Sound()[4..]]),
        ("not-wav", [.. "OggS"u8, .. new byte[200]]),
        ("not-wav", "RIFF"u8.ToArray()),
        ("no-fmt", Sound()[..12]),
        ("no-fmt", [.. Head(), .. WavFile.Chunk("data", new byte[100])]),
        ("bad-fmt", [.. Head(), .. WavFile.Chunk("fmt ", new byte[14]), .. WavFile.Chunk("data", new byte[100])]),
        ("bad-fmt", [.. Head(), .. Mono(), .. Mono(), .. WavFile.Chunk("data", new byte[100])]),
        ("bad-fmt", [.. Head(), .. WavFile.Chunk("fmt ", WavFile.Description(1, Rate, 16, extensible: true)[..18])]),
        ("bad-fmt", [.. Head(), .. WavFile.Chunk("fmt ", new byte[4], size: 0x7FFFFFFF)]),
        ("no-data", [.. Head(), .. Mono()]),
        ("no-data", [.. Head(), .. Mono(), .. WavFile.Chunk("LIST", new byte[7])]),
        ("no-data", [.. Head(), .. Mono(), .. WavFile.Chunk("data", [])]),
        ("no-data", [.. Head(), .. Mono(), .. WavFile.Chunk("junk", new byte[8], size: 0xFFFFFFFE)]),
        ("unsupported-encoding", With(WavFile.Description(1, Rate, 16, encoding: 2))),
        ("unsupported-encoding", With(WavFile.Description(1, Rate, 16, encoding: 85))),
        ("unsupported-encoding", With(WavFile.Description(1, Rate, 8, encoding: 7))),
        ("unsupported-encoding", With(WavFile.Description(1, Rate, 16, extensible: true, encoding: 2))),
        ("unsupported-encoding", With([.. WavFile.Description(1, Rate, 16, extensible: true)[..39], 0])),
        ("bad-channels", With(WavFile.Description(0, Rate, 16))),
        ("bad-channels", With(WavFile.Description(6, Rate, 16))),
        ("bad-sample-rate", With(WavFile.Description(1, 22050, 16))),
        ("bad-sample-rate", With(WavFile.Description(1, 384000, 16))),
        ("bad-sample-rate", With(WavFile.Description(1, 0, 16))),
        ("bad-bits", With(WavFile.Description(1, Rate, 12, frame: 2))),
        ("bad-bits", With(WavFile.Description(1, Rate, 64, isFloat: true))),
        ("bad-bits", With(WavFile.Description(1, Rate, 16, isFloat: true))),
        ("bad-block-align", With(WavFile.Description(1, Rate, 16, frame: 4))),
        ("bad-block-align", With(WavFile.Description(2, Rate, 16, frame: 0))),
        ("truncated", Sound()[..^1000]),
        ("truncated", [.. Head(), .. Mono(), .. WavFile.Chunk("data", new byte[100], size: 0xFFFFFFFE)]),
        ("too-short", With(WavFile.Description(1, Rate, 16), new byte[Rate * 2 * 5 - 2])),
        ("too-long", With(WavFile.Description(1, Rate, 16), new byte[Rate * 2 * 60 + 2])),
        ("silence", With(WavFile.Description(1, Rate, 16), new byte[Rate * 2 * Seconds])),
        ("silence", With(WavFile.Description(1, Rate, 8), [.. Enumerable.Repeat((byte)90, Rate * Seconds)])),
        ("non-finite-samples", NotANumber(float.NaN)),
        ("non-finite-samples", NotANumber(float.PositiveInfinity)),
        ("too-many-chunks", [.. Head(), .. Mono(), .. Enumerable.Repeat(WavFile.Chunk("junk", []), 1001).SelectMany(one => one)]),
    ];

    [Fact]
    public void A_file_that_gives_no_figures_is_refused_with_its_code() => Assert.All(Refused, one =>
    {
        var (recording, fault) = Read(one.File);

        Assert.Null(recording);
        Assert.Equal(one.Code, fault!.Code);
        Assert.InRange(fault.Status, 400, 422);
        Assert.EndsWith(".", fault.Sentence);
    });

    [Fact]
    public void A_file_over_the_limit_is_refused_by_what_was_read_and_not_by_what_it_says()
    {
        var file = With(WavFile.Description(1, 192_000, 32), new byte[41 * 1024 * 1024]);
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(40), 0xFFFFFFFF);

        Assert.Equal("too-large", Read(file).Fault!.Code);
        Assert.Equal(413, Read(file).Fault!.Status);
    }

    [Fact]
    public void Sizes_that_a_recorder_never_filled_in_are_accepted_and_mentioned()
    {
        var file = Sound();
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(4), 0xFFFFFFFF);
        BinaryPrimitives.WriteUInt32LittleEndian(file.AsSpan(40), 0xFFFFFFFF);

        var recording = Read(file).Recording!;

        Assert.Contains("streamed-sizes", recording.Warnings);
        Assert.Equal(Seconds, recording.Seconds, 6);
    }

    [Fact]
    public void Odd_chunks_before_the_samples_and_bytes_behind_them_do_no_harm()
    {
        var plain = Read(Sound()).Recording!;
        byte[] file = [.. Head(), .. WavFile.Chunk("LIST", new byte[7]), .. Mono(), .. WavFile.Chunk("bext", new byte[3]), .. Sound()[36..], .. "trailing"u8];

        Assert.Equal(plain.Energy, Read(file).Recording!.Energy);
    }

    [Fact]
    public void A_stream_that_gives_a_few_bytes_at_a_time_is_read_like_any_other()
    {
        var file = Sound();
        using var dripping = new DrippingStream(file);

        Assert.Equal(Read(file).Recording!.Energy, WavReader.Read(dripping, RecordingLimits.Usual, default).Recording!.Energy);
    }

    [Theory]
    [InlineData(8, false, 0.02)]
    [InlineData(16, false, 1e-4)]
    [InlineData(24, false, 1e-6)]
    [InlineData(32, false, 1e-6)]
    [InlineData(32, true, 1e-6)]
    public void Every_kind_of_sample_is_read_as_the_same_sound(int bits, bool isFloat, double tolerance)
    {
        // A tone of 5 kHz at half scale has a mean square of 1/8, and nothing is lost of it in the band.
        var scene = new Scene { SampleRate = 48000, Bits = bits, Float = isFloat, Extensible = true };
        var tone = Enumerable.Range(0, 48000 * 5).Select(i => Math.Sin(2 * Math.PI * 5000 * i / 48000)).ToArray();
        var recording = Read(WavFile.Write(scene with { ClippedByDecibels = 20 * Math.Log10(0.5) }, tone)).Recording!;

        Assert.Equal(1.0 / 8, recording.Energy.Skip(1000).Average(one => (double)one), tolerance + 0.004);
        Assert.Equal(bits, recording.Bits);
    }

    [Theory]
    [InlineData(Stereo.WatchOnRight, 1)]
    [InlineData(Stereo.Antiphase, 0)]
    public void The_channel_with_the_watch_is_listened_to(Stereo stereo, int channel)
    {
        var recording = Read(Recorder.Take(new Scene { Seconds = 6, Stereo = stereo, Offset = 0.1 }).File).Recording!;
        var mono = Read(Recorder.Take(new Scene { Seconds = 6, Offset = 0.1 }).File).Recording!;

        Assert.Equal(channel, recording.Channel);
        Assert.Equal(mono.Energy.Sum(one => (double)one), recording.Energy.Sum(one => (double)one), 1e-3 * mono.Energy.Sum(one => (double)one));
    }

    [Fact]
    public void A_recording_that_reached_the_end_of_the_scale_says_so()
    {
        Assert.Contains("clipped", Read(Recorder.Take(new Scene { Seconds = 6, ClippedByDecibels = 14 }).File).Recording!.Warnings);
        Assert.Empty(Read(Recorder.Take(new Scene { Seconds = 6 }).File).Recording!.Warnings);
    }

    internal static byte[] Sound()
    {
        var chance = new Chance(3);
        var data = new byte[Rate * Seconds * 2];
        for (var i = 0; i < data.Length; i += 2)
        {
            BinaryPrimitives.WriteInt16LittleEndian(data.AsSpan(i), (short)(1000 * chance.Normal()));
        }

        return WavFile.Of(WavFile.Description(1, Rate, 16), data);
    }

    private static ReadOutcome Read(byte[] file)
    {
        using var stream = new MemoryStream(file);
        return WavReader.Read(stream, RecordingLimits.Usual, default);
    }

    private static byte[] Head() => Sound()[..12];

    private static byte[] Mono() => WavFile.Chunk("fmt ", WavFile.Description(1, Rate, 16));

    private static byte[] With(byte[] fmt, byte[]? data = null) => WavFile.Of(fmt, data ?? Sound()[44..]);

    private static byte[] NotANumber(float odd)
    {
        var data = new byte[Rate * Seconds * 4];
        BinaryPrimitives.WriteSingleLittleEndian(data.AsSpan(4000), odd);
        return With(WavFile.Description(1, Rate, 32, isFloat: true), data);
    }

    private sealed class DrippingStream(byte[] content) : MemoryStream(content)
    {
        private int turn;

        public override int Read(Span<byte> buffer) => base.Read(buffer[..Math.Min(buffer.Length, 1 + 977 * (turn++ % 7))]);
    }
}
