using Workshop.Beats.Recordings;

namespace Workshop.Beats.Listening;

/// <summary>One recording being listened to, step by step.</summary>
internal sealed class Listening(Recording recording, ListeningParameters parameters, CancellationToken cancel)
{
    private const double BeforeLoudest = 0.002;
    private const double AfterLoudest = 0.012;
    private const double LeastPresence = 0.5;

    public Heard Listen()
    {
        var energy = recording.Energy;
        var rate = recording.EnergyRate;
        var floor = LogEnvelope.FloorOf(energy, rate);
        var step = (int)Math.Round(rate / 4000);
        var coarse = LogEnvelope.Stepped(energy, step, floor);
        var coarseRate = rate / step;
        var lookedFor = Frequencies.LookedFor(parameters.CalibreVibrationsPerHour);
        var finder = new FrequencyFinder(coarse, coarseRate, parameters.LiftAngleDegrees);
        var (found, code) = finder.Find(lookedFor);
        cancel.ThrowIfCancellationRequested();
        if (found is null)
        {
            return Nothing(code!);
        }

        if (finder.AnotherBeats(found, lookedFor))
        {
            return Nothing("more-than-one-watch", found.VibrationsPerHour);
        }

        cancel.ThrowIfCancellationRequested();
        var fine = LogEnvelope.Fine(energy, floor);
        var most = Frequencies.LiftSeconds(Frequencies.LeastAmplitude, parameters.LiftAngleDegrees, found.Period);
        var burst = BurstLine.Follow(found, coarse, coarseRate, fine, rate, most + BeforeLoudest, AfterLoudest);
        if (burst is null)
        {
            return Nothing("beats-not-followed", found.VibrationsPerHour);
        }

        if (SoundsOnlySometimes(burst))
        {
            return Nothing("not-every-beat-sounds");
        }

        cancel.ThrowIfCancellationRequested();
        var noises = TimedNoises.Find(energy, fine, rate, burst, found.Period, parameters.LiftAngleDegrees, BeforeLoudest, AfterLoudest);
        return new Figures(recording, parameters, found.VibrationsPerHour, burst, noises).Answer();
    }

    // A clock that ticks once a second folds well at 18 000; only that four of five beats are missing betrays it.
    private static bool SoundsOnlySometimes(BurstLine burst)
    {
        var there = burst.Presence.Where(double.IsFinite).ToArray();
        Array.Sort(there);
        return there.Length == 0 || there[there.Length / 2] < LeastPresence || there[there.Length / 5] < LeastPresence - 0.2 - 0.9 * burst.PresenceNoise;
    }

    private Heard Nothing(string code, int? vibrations = null) => new(Listener.Nothing(recording, parameters, code, vibrations, null), null);
}
