using System.Buffers.Binary;

namespace Workshop.Beats.Recordings;

/// <summary>How samples lie in a WAV file. Source of the fields: the RIFF/WAVE description of Microsoft and IBM (1991), WAVEFORMATEXTENSIBLE (2001).</summary>
internal readonly record struct SampleFormat(int Channels, int SampleRate, int Bits, bool Float)
{
    public const int LongestDescription = 40;

    private const int ShortestDescription = 16;
    private const ushort Pcm = 1;
    private const ushort IeeeFloat = 3;
    private const ushort Extensible = 0xFFFE;

    // The last 14 bytes of KSDATAFORMAT_SUBTYPE_PCM and …_IEEE_FLOAT; the first two say which of the encodings it is.
    private static ReadOnlySpan<byte> SubFormatTail => [0x00, 0x00, 0x00, 0x00, 0x10, 0x00, 0x80, 0x00, 0x00, 0xAA, 0x00, 0x38, 0x9B, 0x71];

    public int BytesOfSample => Bits / 8;

    public int BytesOfFrame => Channels * BytesOfSample;

    /// <summary>Reads the description of the samples.</summary>
    /// <param name="fmt">Its first bytes, at most <see cref="LongestDescription"/>.</param>
    /// <param name="format">What it says, where nothing is wrong with it.</param>
    /// <returns>What is wrong with it, or null.</returns>
    public static RecordingFault? Read(ReadOnlySpan<byte> fmt, out SampleFormat format)
    {
        format = default;
        if (fmt.Length < ShortestDescription)
        {
            return RecordingFault.BadFormat;
        }

        var encoding = BinaryPrimitives.ReadUInt16LittleEndian(fmt);
        if (encoding == Extensible)
        {
            if (fmt.Length < LongestDescription)
            {
                return RecordingFault.BadFormat;
            }

            encoding = fmt[26..40].SequenceEqual(SubFormatTail) ? BinaryPrimitives.ReadUInt16LittleEndian(fmt[24..]) : (ushort)0;
        }

        int channels = BinaryPrimitives.ReadUInt16LittleEndian(fmt[2..]);
        var rate = BinaryPrimitives.ReadUInt32LittleEndian(fmt[4..]);
        int frame = BinaryPrimitives.ReadUInt16LittleEndian(fmt[12..]);
        int bits = BinaryPrimitives.ReadUInt16LittleEndian(fmt[14..]);
        if (encoding is not (Pcm or IeeeFloat))
        {
            return RecordingFault.UnsupportedEncoding;
        }

        if (channels is not (1 or 2))
        {
            return RecordingFault.BadChannels;
        }

        if (rate is < 32_000 or > 192_000)
        {
            return RecordingFault.BadSampleRate;
        }

        if (bits is not (8 or 16 or 24 or 32) || (encoding == IeeeFloat && bits != 32))
        {
            return RecordingFault.BadBits;
        }

        if (frame != channels * bits / 8)
        {
            return RecordingFault.BadBlockAlign;
        }

        format = new SampleFormat(channels, (int)rate, bits, encoding == IeeeFloat);
        return null;
    }
}
