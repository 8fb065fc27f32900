using System.Globalization;

namespace Workshop.Beats.Tests.Sweeps;

/// <summary>Tables of what was heard beside the truth, as text.</summary>
public static class AccuracyRows
{
    /// <summary>By signal-to-noise ratio, frequency and length, and what share of the truths lies within the stated intervals.</summary>
    /// <param name="each">Recordings a cell.</param>
    /// <param name="seeds">From a number to a seed.</param>
    public static IReadOnlyList<Score> Print(IReadOnlyList<int> decibels, IReadOnlyList<int> seconds, int each, Func<int, int> seeds, Action<string> say)
    {
        say("  dB    vph    s  answered  rate s/d (median, 90 %)  amplitude ° (median, 90 %)  beat error ms (median, 90 %)  within: rate amplitude beat error");
        var all = new List<Score>();
        foreach (var ratio in decibels)
        {
            foreach (var vibrations in Scenes.Frequencies)
            {
                foreach (var length in seconds)
                {
                    var cell = Score.OfAll(Enumerable.Range(0, each).Select(n => Scenes.Ordinary(vibrations, ratio, length, seeds(50_000 + 977 * n + vibrations / 100 + ratio + length))));
                    all.AddRange(cell);
                    say(string.Create(
                        CultureInfo.InvariantCulture,
                        $"{ratio,4} {vibrations,6} {length,4}  {cell.Count(one => one.Ok),3}/{cell.Length,-3}   {Two(cell.Select(one => one.RateError), 3),-22}  {Two(cell.Select(one => one.AmplitudeError), 1),-26}  {Two(cell.Select(one => one.BeatErrorError), 3),-28}  {Share(cell.Select(one => one.RateWithin))} {Share(cell.Select(one => one.AmplitudeWithin))} {Share(cell.Select(one => one.BeatErrorWithin))}"));
                }
            }
        }

        say(Within("all", all));
        return all;
    }

    /// <summary>One class of recordings: how many were answered, how many frequencies are right, and the largest error of each figure that was given.</summary>
    public static string Class(string name, IReadOnlyCollection<Score> all) => string.Create(
        CultureInfo.InvariantCulture,
        $"{name,-44} answered {all.Count(one => one.Ok),3} of {all.Count,-3} frequency {all.Count(one => one.FrequencyRight),3}  rate {Largest(all.Select(one => one.RateError), "F3")} s/d ({all.Count(one => one.RateError is not null)})  amplitude {Largest(all.Select(one => one.AmplitudeError), "F1")}° ({all.Count(one => one.AmplitudeError is not null)})  beat error {Largest(all.Select(one => one.BeatErrorError), "F3")} ms ({all.Count(one => one.BeatErrorError is not null)})  wrong {all.Count(one => one.Wrong() is not null)}");

    public static string Within(string name, IReadOnlyCollection<Score> all) =>
        $"{name}, within the stated interval: rate {Share(all.Select(one => one.RateWithin))}, amplitude {Share(all.Select(one => one.AmplitudeWithin))}, beat error {Share(all.Select(one => one.BeatErrorWithin))}";

    private static string Largest(IEnumerable<double?> errors, string format) => errors.Max() is { } largest ? largest.ToString(format, CultureInfo.InvariantCulture) : "-";

    private static string Two(IEnumerable<double?> errors, int decimals)
    {
        var sorted = errors.OfType<double>().Order().ToArray();
        return sorted.Length == 0 ? "-" : string.Create(CultureInfo.InvariantCulture, $"{Math.Round(sorted[(sorted.Length - 1) / 2], decimals)}, {Math.Round(sorted[(int)Math.Ceiling(0.9 * sorted.Length) - 1], decimals)}");
    }

    private static string Share(IEnumerable<bool?> within)
    {
        var told = within.OfType<bool>().ToArray();
        return told.Length == 0 ? "-" : string.Create(CultureInfo.InvariantCulture, $"{100.0 * told.Count(one => one) / told.Length:F1} % of {told.Length}");
    }
}
