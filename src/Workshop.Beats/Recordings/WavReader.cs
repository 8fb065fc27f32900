using System.Buffers.Binary;

namespace Workshop.Beats.Recordings;

/// <summary>A recording, or why there is none; exactly one of the two.</summary>
public readonly record struct ReadOutcome(Recording? Recording, RecordingFault? Fault);

/// <summary>
/// Reads a WAV file from front to back, once, in small pieces. A size in the file decides how far is read and never how much memory is taken.
/// What follows the samples is ignored.
/// </summary>
public sealed class WavReader
{
    private const int MostChunks = 1000;
    private const uint SizeNotKnown = 0xFFFFFFFF;
    private const int PieceBytes = 48 * 1024;

    private readonly Stream stream;
    private readonly RecordingLimits limits;
    private readonly CancellationToken cancel;
    private readonly List<string> warnings = [];
    private readonly byte[] piece = new byte[PieceBytes];
    private long read;
    private SampleFormat format;

    private WavReader(Stream stream, RecordingLimits limits, CancellationToken cancel) => (this.stream, this.limits, this.cancel) = (stream, limits, cancel);

    /// <summary>Reads one recording.</summary>
    /// <exception cref="OperationCanceledException">It was given up.</exception>
    /// <exception cref="IOException">The stream itself cannot be read.</exception>
    public static ReadOutcome Read(Stream stream, RecordingLimits limits, CancellationToken cancel) => new WavReader(stream, limits, cancel).Read();

    private ReadOutcome Read()
    {
        var head = piece.AsSpan(0, 12);
        var first = Fill(head);
        if (first == 0)
        {
            return Refused(RecordingFault.Empty);
        }

        if (first < 12 || !head[..4].SequenceEqual("RIFF"u8) || !head[8..].SequenceEqual("WAVE"u8))
        {
            return Refused(RecordingFault.NotWav);
        }

        var described = false;
        for (var chunk = 0; chunk < MostChunks; chunk++)
        {
            var name = piece.AsSpan(0, 8);
            if (Fill(name) < 8)
            {
                return Refused(TooMuch() ?? (described ? RecordingFault.NoData : RecordingFault.NoFormat));
            }

            var size = BinaryPrimitives.ReadUInt32LittleEndian(name[4..]);
            if (name[..4].SequenceEqual("data"u8))
            {
                return described ? ReadSamples(size) : Refused(RecordingFault.NoFormat);
            }

            if (name[..4].SequenceEqual("fmt "u8))
            {
                if (described)
                {
                    return Refused(RecordingFault.BadFormat);
                }

                var description = piece.AsSpan(0, (int)Math.Min(size, SampleFormat.LongestDescription));
                if (Fill(description) < description.Length)
                {
                    return Refused(RecordingFault.BadFormat);
                }

                if (SampleFormat.Read(description, out format) is { } fault)
                {
                    return Refused(fault);
                }

                described = true;
                Skip(Padded(size) - description.Length);
            }
            else
            {
                Skip(Padded(size));
            }
        }

        return Refused(TooMuch() ?? RecordingFault.TooManyChunks);
    }

    // A chunk of an odd size is followed by one byte that belongs to nobody.
    private static long Padded(uint size) => size + (long)(size & 1);

    private static ReadOutcome Refused(RecordingFault fault) => new(null, fault);

    private RecordingFault? TooMuch() => read > limits.Bytes ? RecordingFault.TooLarge : null;

    private ReadOutcome ReadSamples(uint size)
    {
        var streamed = size == SizeNotKnown;
        if (streamed)
        {
            warnings.Add("streamed-sizes");
        }
        else if (size == 0)
        {
            return Refused(RecordingFault.NoData);
        }

        long announced = streamed ? long.MaxValue : size;
        var longest = (long)(limits.LongestSeconds * format.SampleRate);
        var band = new BandEnergy(format.SampleRate, format.Channels);
        var decoder = new SampleDecoder(format);
        long taken = 0;
        long frames = 0;
        var kept = 0;
        while (taken < announced)
        {
            cancel.ThrowIfCancellationRequested();
            var wanted = (int)Math.Min(PieceBytes - kept, announced - taken);
            var got = Fill(piece.AsSpan(kept, wanted));
            taken += got;
            if (TooMuch() is { } tooMuch)
            {
                return Refused(tooMuch);
            }

            var whole = (kept + got) / format.BytesOfFrame;
            if (frames <= longest)
            {
                band.Add(decoder.Decode(piece.AsSpan(0, whole * format.BytesOfFrame)));
            }

            frames += whole;
            var used = whole * format.BytesOfFrame;
            kept = kept + got - used;
            piece.AsSpan(used, kept).CopyTo(piece);
            if (got < wanted)
            {
                break;
            }
        }

        return Judge(streamed ? null : size, taken, frames, decoder, band);
    }

    private ReadOutcome Judge(uint? announced, long taken, long frames, SampleDecoder decoder, BandEnergy band)
    {
        var seconds = (double)frames / format.SampleRate;
        var fault =
            announced > taken ? RecordingFault.Truncated
            : taken == 0 ? RecordingFault.NoData
            : decoder.FoundNoNumber ? RecordingFault.NonFiniteSamples
            : seconds < limits.ShortestSeconds ? RecordingFault.TooShort
            : seconds > limits.LongestSeconds ? RecordingFault.TooLong
            : decoder.Constant ? RecordingFault.Silence
            : null;
        if (fault is not null)
        {
            return Refused(fault);
        }

        var clipped = decoder.ClippedShare;
        if (clipped > 0)
        {
            warnings.Add("clipped");
        }

        var (channel, energy) = band.Better();
        return new ReadOutcome(new Recording(seconds, format.SampleRate, format.Bits, format.Channels, channel, band.Rate, energy, clipped, warnings), null);
    }

    /// <summary>Fills as much as there is; a stream may give less at a time than was asked for.</summary>
    private int Fill(Span<byte> target)
    {
        var filled = 0;
        while (filled < target.Length)
        {
            var got = stream.Read(target[filled..]);
            if (got == 0)
            {
                break;
            }

            filled += got;
        }

        read += filled;
        return filled;
    }

    private void Skip(long bytes)
    {
        var left = bytes;
        while (left > 0 && read <= limits.Bytes)
        {
            cancel.ThrowIfCancellationRequested();
            var got = Fill(piece.AsSpan(0, (int)Math.Min(PieceBytes, left)));
            if (got == 0)
            {
                return;
            }

            left -= got;
        }
    }
}
