namespace Workshop.Beats.Recordings;

/// <summary>What is kept of a recording: the energy of its better channel in the band where a watch is heard.</summary>
/// <param name="Seconds">Length by the recorder's own clock.</param>
/// <param name="SampleRate">Samples a second in the file.</param>
/// <param name="Bits">Bits of one sample.</param>
/// <param name="Channels">1 or 2.</param>
/// <param name="Channel">The one that was listened to, from 0: it has most energy above 2 kHz.</param>
/// <param name="EnergyRate">Values of <paramref name="Energy"/> a second, 16 to 32 thousand.</param>
/// <param name="Energy">Mean square between 1.8 and 14 kHz, full scale 1, one value for each short stretch of samples.</param>
/// <param name="ClippedShare">Share of the samples at the end of the scale.</param>
/// <param name="Warnings">Codes of what was odd and did no harm.</param>
public sealed record Recording(
    double Seconds,
    int SampleRate,
    int Bits,
    int Channels,
    int Channel,
    double EnergyRate,
    float[] Energy,
    double ClippedShare,
    IReadOnlyList<string> Warnings);
