using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Workshop.Beats.Recordings;

/// <summary>Bytes of samples into numbers with full scale 1, two channels side by side; a recording in mono has the same in both.</summary>
internal sealed class SampleDecoder(SampleFormat format)
{
    // Far above any scale that a recorder uses, and its square still fits where energies are kept.
    private const float Beyond = 1e6f;

    private readonly float[] interleaved = new float[48 * 1024];
    private Vector128<double>[] frames = [];
    private float firstLeft;
    private float firstRight;
    private bool begun;
    private long count;
    private long clipped;

    /// <summary>A sample was infinite or no number.</summary>
    public bool FoundNoNumber { get; private set; }

    /// <summary>No sample of a channel differed from the channel's first.</summary>
    public bool Constant { get; private set; } = true;

    /// <summary>Share of the samples at the end of the scale; 0 where it is so small that it may be chance.</summary>
    public double ClippedShare => count > 0 && clipped > 10 ? (double)clipped / count : 0;

    /// <param name="bytes">Whole frames.</param>
    public ReadOnlySpan<Vector128<double>> Decode(ReadOnlySpan<byte> bytes)
    {
        var samples = bytes.Length / format.BytesOfSample;
        var numbers = interleaved.AsSpan(0, samples);
        var top = format.Float ? DecodeFloat(bytes, numbers) : DecodeWhole(bytes, numbers);
        Note(numbers, top);
        return SideBySide(numbers);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static float DecodeWhole(ReadOnlySpan<byte> bytes, Span<float> numbers)
    {
        switch (bytes.Length / Math.Max(1, numbers.Length))
        {
            case 1:
                for (var i = 0; i < numbers.Length; i++)
                {
                    numbers[i] = (bytes[i] - 128) / 128f;
                }

                return 127 / 128f;
            case 2:
                for (var i = 0; i < numbers.Length; i++)
                {
                    numbers[i] = BinaryPrimitives.ReadInt16LittleEndian(bytes[(2 * i)..]) / 32768f;
                }

                return 32767 / 32768f;
            case 3:
                for (var i = 0; i < numbers.Length; i++)
                {
                    var three = bytes.Slice(3 * i, 3);
                    numbers[i] = (three[0] | (three[1] << 8) | ((sbyte)three[2] << 16)) / 8388608f;
                }

                return 8388607 / 8388608f;
            default:
                for (var i = 0; i < numbers.Length; i++)
                {
                    numbers[i] = BinaryPrimitives.ReadInt32LittleEndian(bytes[(4 * i)..]) / 2147483648f;
                }

                return 1;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private float DecodeFloat(ReadOnlySpan<byte> bytes, Span<float> numbers)
    {
        for (var i = 0; i < numbers.Length; i++)
        {
            var number = BinaryPrimitives.ReadSingleLittleEndian(bytes[(4 * i)..]);
            if (!float.IsFinite(number))
            {
                FoundNoNumber = true;
                number = 0;
            }

            numbers[i] = Math.Clamp(number, -Beyond, Beyond);
        }

        return 1;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Note(ReadOnlySpan<float> numbers, float top)
    {
        if (numbers.IsEmpty)
        {
            return;
        }

        if (!begun)
        {
            (firstLeft, firstRight, begun) = (numbers[0], numbers[format.Channels - 1], true);
        }

        var atTop = 0;
        for (var i = 0; i < numbers.Length; i++)
        {
            atTop += MathF.Abs(numbers[i]) >= top ? 1 : 0;
        }

        count += numbers.Length;
        clipped += atTop;
        for (var i = 0; Constant && i < numbers.Length; i++)
        {
            Constant = numbers[i] == (format.Channels == 2 && (i & 1) == 1 ? firstRight : firstLeft);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private ReadOnlySpan<Vector128<double>> SideBySide(ReadOnlySpan<float> numbers)
    {
        var length = numbers.Length / format.Channels;
        if (frames.Length < length)
        {
            frames = new Vector128<double>[length];
        }

        if (format.Channels == 1)
        {
            for (var i = 0; i < length; i++)
            {
                frames[i] = Vector128.Create((double)numbers[i]);
            }
        }
        else
        {
            var pairs = MemoryMarshal.Cast<float, (float Left, float Right)>(numbers);
            for (var i = 0; i < length; i++)
            {
                frames[i] = Vector128.Create((double)pairs[i].Left, pairs[i].Right);
            }
        }

        return frames.AsSpan(0, length);
    }
}
