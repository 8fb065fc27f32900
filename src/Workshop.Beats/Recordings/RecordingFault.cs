namespace Workshop.Beats.Recordings;

/// <summary>Why a file gives no figures at all.</summary>
/// <param name="Code">A stable word for machines, kebab-case.</param>
/// <param name="Status">What HTTP says to it (RFC 9110): 400, 413, 415 or 422.</param>
/// <param name="Sentence">One plain sentence for people.</param>
public sealed record RecordingFault(string Code, int Status, string Sentence)
{
    public static readonly RecordingFault TooLarge = new("too-large", 413, "The file is larger than 40 MiB; record in mono or with 24 bits.");
    public static readonly RecordingFault Empty = new("empty", 400, "The file is empty.");
    public static readonly RecordingFault NotWav = new("not-wav", 415, "This is no WAV file.");
    public static readonly RecordingFault UnsupportedEncoding = new("unsupported-encoding", 415, "Only PCM and 32-bit float are read; a lossy encoding moves what is to be timed.");
    public static readonly RecordingFault BadFormat = new("bad-fmt", 422, "The description of the samples (fmt) is too short, or there are two.");
    public static readonly RecordingFault NoFormat = new("no-fmt", 422, "There is no description of the samples (fmt) before them.");
    public static readonly RecordingFault NoData = new("no-data", 422, "The file holds no samples.");
    public static readonly RecordingFault BadChannels = new("bad-channels", 422, "The recording has neither one channel nor two.");
    public static readonly RecordingFault BadSampleRate = new("bad-sample-rate", 422, "The sample rate is not from 32 to 192 kHz.");
    public static readonly RecordingFault BadBits = new("bad-bits", 422, "A sample has not 8, 16, 24 or 32 bits.");
    public static readonly RecordingFault BadBlockAlign = new("bad-block-align", 422, "The size of a sample of all channels contradicts channels and bits.");
    public static readonly RecordingFault Truncated = new("truncated", 422, "The file ends before the samples it announces; send it again.");
    public static readonly RecordingFault TooManyChunks = new("too-many-chunks", 422, "The file has more than 1000 chunks.");
    public static readonly RecordingFault TooShort = new("too-short", 422, "The recording is shorter than 5 seconds.");
    public static readonly RecordingFault TooLong = new("too-long", 422, "The recording is longer than 60 seconds.");
    public static readonly RecordingFault Silence = new("silence", 422, "The recording is silent: every sample has the same value.");
    public static readonly RecordingFault NonFiniteSamples = new("non-finite-samples", 422, "The recording holds samples that are no numbers.");
}
