using MathNet.Numerics.Distributions;
using Workshop.Beats.Recordings;

namespace Workshop.Beats.Listening;

/// <summary>Listens to a recording: frequency, then every beat, then what the noises of a beat say. Whatever goes wrong inside is "no reading".</summary>
public static class Listener
{
    /// <summary>Raised when the same file would give another answer.</summary>
    public const int Version = 3;

    internal const double SecondsPerDay = 86400;

    /// <exception cref="OperationCanceledException">It was given up.</exception>
    public static Reading Listen(Recording recording, ListeningParameters parameters, CancellationToken cancel) => Hear(recording, parameters, cancel).Reading;

    /// <summary>The reading and what it rests on.</summary>
    /// <exception cref="OperationCanceledException">It was given up.</exception>
    public static Heard Hear(Recording recording, ListeningParameters parameters, CancellationToken cancel)
    {
        try
        {
            return new Listening(recording, parameters, cancel).Listen();
        }
        catch (Exception failure) when (failure is not (OperationCanceledException or OutOfMemoryException))
        {
            return new Heard(Nothing(recording, parameters, "internal-failure", null, null), null);
        }
    }

    /// <summary>A reading with nothing to act on.</summary>
    internal static Reading Nothing(Recording recording, ListeningParameters parameters, string code, int? vibrations, double? decibels) => new(
        ReadingClass.Low,
        code,
        [code, .. recording.Warnings],
        vibrations,
        Figure.Unavailable(code),
        Figure.Unavailable(code),
        Figure.Unavailable(code),
        Figure.Unavailable(code),
        decibels,
        recording.Seconds,
        0,
        null,
        parameters,
        Version);

    internal static double RateOf(double nominalBeat, double trueBeat) => SecondsPerDay * (nominalBeat / trueBeat - 1);

    /// <summary>Half width of a 95 % interval in standard errors.</summary>
    internal static double Coverage(int beats) => StudentT.InvCDF(0, 1, Math.Max(1, beats - 3), 0.975);
}
