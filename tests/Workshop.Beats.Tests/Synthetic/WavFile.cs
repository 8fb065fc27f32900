using System.Buffers.Binary;

namespace Workshop.Beats.Tests.Synthetic;

/// <summary>Writes WAV files by the description of the format.</summary>
public static class WavFile
{
    private static readonly byte[] SubFormatTail = [0x00, 0x00, 0x00, 0x00, 0x10, 0x00, 0x80, 0x00, 0x00, 0xAA, 0x00, 0x38, 0x9B, 0x71];

    /// <summary>The scene's samples in the scene's format.</summary>
    public static byte[] Write(Scene scene, double[] samples)
    {
        var peak = Math.Max(1e-12, samples.Max(Math.Abs));
        var gain = Math.Pow(10, (scene.ClippedByDecibels ?? -6) / 20) / peak;
        var channels = scene.Stereo == Stereo.Mono ? 1 : 2;
        var size = scene.Bits / 8;
        var data = new byte[samples.Length * size * channels];
        var quiet = new Chance(scene.Seed + 77);
        for (var i = 0; i < samples.Length; i++)
        {
            var sample = samples[i] * gain + scene.Offset;
            for (var c = 0; c < channels; c++)
            {
                var there = scene.Stereo switch
                {
                    Stereo.Antiphase when c == 1 => -sample,
                    Stereo.WatchOnRight when c == 0 => 0.001 * quiet.Normal(),
                    _ => sample,
                };
                Put(data.AsSpan((i * channels + c) * size, size), there, scene.Float);
            }
        }

        return Of(Description(channels, scene.SampleRate, scene.Bits, scene.Float, scene.Extensible), data);
    }

    /// <summary>A file of a description of samples and the samples.</summary>
    public static byte[] Of(byte[] fmt, byte[] data) => [.. "RIFF"u8, .. Size(4 + 8 + fmt.Length + 8 + data.Length), .. "WAVE"u8, .. Chunk("fmt ", fmt), .. Chunk("data", data)];

    public static byte[] Chunk(string name, byte[] content, uint? size = null) =>
        [.. System.Text.Encoding.ASCII.GetBytes(name), .. Size(size ?? (uint)content.Length), .. content, .. content.Length % 2 == 1 ? [0] : Array.Empty<byte>()];

    public static byte[] Description(int channels, int rate, int bits, bool isFloat = false, bool extensible = false, int? encoding = null, int? frame = null)
    {
        var fmt = new byte[extensible ? 40 : 16];
        var plain = (ushort)(encoding ?? (isFloat ? 3 : 1));
        BinaryPrimitives.WriteUInt16LittleEndian(fmt, extensible ? (ushort)0xFFFE : plain);
        BinaryPrimitives.WriteUInt16LittleEndian(fmt.AsSpan(2), (ushort)channels);
        BinaryPrimitives.WriteUInt32LittleEndian(fmt.AsSpan(4), (uint)rate);
        BinaryPrimitives.WriteUInt32LittleEndian(fmt.AsSpan(8), (uint)(rate * channels * bits / 8));
        BinaryPrimitives.WriteUInt16LittleEndian(fmt.AsSpan(12), (ushort)(frame ?? channels * bits / 8));
        BinaryPrimitives.WriteUInt16LittleEndian(fmt.AsSpan(14), (ushort)bits);
        if (extensible)
        {
            BinaryPrimitives.WriteUInt16LittleEndian(fmt.AsSpan(16), 22);
            BinaryPrimitives.WriteUInt16LittleEndian(fmt.AsSpan(18), (ushort)bits);
            BinaryPrimitives.WriteUInt16LittleEndian(fmt.AsSpan(24), plain);
            SubFormatTail.CopyTo(fmt, 26);
        }

        return fmt;
    }

    private static byte[] Size(long size)
    {
        var four = new byte[4];
        BinaryPrimitives.WriteUInt32LittleEndian(four, (uint)size);
        return four;
    }

    private static void Put(Span<byte> target, double sample, bool isFloat)
    {
        var held = Math.Clamp(sample, -1, 1);
        switch (target.Length)
        {
            case 1:
                target[0] = (byte)Math.Clamp(Math.Round(held * 128) + 128, 0, 255);
                break;
            case 2:
                BinaryPrimitives.WriteInt16LittleEndian(target, (short)Math.Clamp(Math.Round(held * 32768), -32768, 32767));
                break;
            case 3:
                var three = (int)Math.Clamp(Math.Round(held * 8388608), -8388608, 8388607);
                (target[0], target[1], target[2]) = ((byte)three, (byte)(three >> 8), (byte)(three >> 16));
                break;
            default:
                if (isFloat)
                {
                    BinaryPrimitives.WriteSingleLittleEndian(target, (float)sample);
                }
                else
                {
                    BinaryPrimitives.WriteInt32LittleEndian(target, (int)Math.Clamp(Math.Round(held * 2147483648.0), -2147483648, 2147483647));
                }

                break;
        }
    }
}
