using System.Globalization;
using Xunit.Abstractions;

namespace Workshop.Beats.Tests.Sweeps;

/// <summary>
/// Prints the accuracy by signal-to-noise ratio, frequency and length: one recording a cell of a small table where nothing else is said;
/// <c>WORKSHOP_SWEEP=20</c> takes twenty a cell of the whole one.
/// </summary>
public sealed class AccuracyTable(ITestOutputHelper output)
{
    [Fact]
    public void Accuracy_by_ratio_frequency_and_length()
    {
        var count = int.TryParse(Environment.GetEnvironmentVariable("WORKSHOP_SWEEP"), CultureInfo.InvariantCulture, out var asked) && asked > 0 ? asked : 1;
        output.WriteLine("  dB    vph    s  answered  rate s/d (median, 90 %)  amplitude ° (median, 90 %)  beat error ms (median, 90 %)  within: rate amplitude beat error");
        var all = new List<Score>();
        foreach (var decibels in asked > 0 ? new[] { 30, 20, 12, 6, 0 } : [30, 10])
        {
            foreach (var vibrations in Scenes.Frequencies)
            {
                foreach (var seconds in asked > 0 ? new[] { 10, 30, 60 } : [10, 30])
                {
                    var cell = Score.OfAll(Enumerable.Range(0, count).Select(n => Scenes.Ordinary(vibrations, decibels, seconds, Seeds.Test(20_000 + 977 * n + vibrations / 100 + decibels + seconds))));
                    all.AddRange(cell);
                    output.WriteLine(Row(decibels, vibrations, seconds, cell));
                }
            }
        }

        output.WriteLine($"within the stated interval: rate {Share(all.Select(one => one.RateWithin))}, amplitude {Share(all.Select(one => one.AmplitudeWithin))}, beat error {Share(all.Select(one => one.BeatErrorWithin))}");
        Assert.All(all, one => Assert.Null(one.Wrong()));
    }

    private static string Row(int decibels, int vibrations, int seconds, Score[] cell) => string.Create(
        CultureInfo.InvariantCulture,
        $"{decibels,4} {vibrations,6} {seconds,4}  {cell.Count(one => one.Ok),3}/{cell.Length,-3}   {Two(cell.Select(one => one.RateError), 3),-22}  {Two(cell.Select(one => one.AmplitudeError), 1),-26}  {Two(cell.Select(one => one.BeatErrorError), 3),-28}  {Share(cell.Select(one => one.RateWithin))} {Share(cell.Select(one => one.AmplitudeWithin))} {Share(cell.Select(one => one.BeatErrorWithin))}");

    private static string Two(IEnumerable<double?> errors, int decimals)
    {
        var sorted = errors.OfType<double>().Order().ToArray();
        return sorted.Length == 0 ? "-" : $"{Math.Round(sorted[sorted.Length / 2], decimals)}, {Math.Round(sorted[(int)(0.9 * (sorted.Length - 1))], decimals)}";
    }

    private static string Share(IEnumerable<bool?> within)
    {
        var told = within.OfType<bool>().ToArray();
        return told.Length == 0 ? "-" : string.Create(CultureInfo.InvariantCulture, $"{100.0 * told.Count(one => one) / told.Length:F0} %");
    }
}
