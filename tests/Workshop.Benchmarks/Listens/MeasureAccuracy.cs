using System.CommandLine;
using System.Globalization;
using Workshop.Beats.Tests.Sweeps;

namespace Workshop.Benchmarks.Listens;

/// <summary>
/// <c>accuracy</c>: how near the figures of the listener come to the truth of made recordings, by class, by ratio, frequency and length, and how
/// often the truth lies within what was stated. By the seeds that nobody tuned on, unless the tuning ones are asked for.
/// </summary>
internal static class MeasureAccuracy
{
    public static Command Command()
    {
        var each = new Option<int>("--each") { Description = "Recordings a cell of the table by ratio, frequency and length; 0 leaves it out.", DefaultValueFactory = _ => 2 };
        var tuning = new Option<bool>("--tuning") { Description = "Take the seeds that may be looked at while the listener is being changed." };
        var command = new Command("accuracy", "How near the listener comes to the truth of made recordings, and how often its intervals hold.") { each, tuning };
        command.SetAction(given => Measure(given.GetValue(each), given.GetValue(tuning) ? number => Seeds.Tuning(200_000 + number) : Seeds.Test));
        return command;
    }

    private static int Measure(int each, Func<int, int> seeds)
    {
        var scores = TargetScores.Of(seeds);
        foreach (var (name, all) in scores.Classes.Concat(scores.Nasty))
        {
            Console.WriteLine(AccuracyRows.Class(name, all));
        }

        // 86400·σ·√(12/N)/D with the scatter that the reading itself states.
        var ratios = scores.Clean.Where(one => one.RateError is not null)
            .Select(one => one.RateError!.Value / (86400 * one.Reading!.ScatterMicroseconds!.Value * 1e-6 * Math.Sqrt(12.0 / one.Reading.BeatsUsed) / one.Scene.Seconds)).Order().ToArray();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"clean rates against the theoretical limit: median {ratios[ratios.Length / 2]:F2}, nine of ten {ratios[(int)(0.9 * (ratios.Length - 1))]:F2}"));
        Console.WriteLine(AccuracyRows.Within($"{scores.Ordinary.Count()} ordinary recordings", [.. scores.Ordinary]));
        var heard = scores.Ordinary.Concat(scores.Nasty.Values.SelectMany(one => one)).ToList();
        if (each > 0)
        {
            heard.AddRange(AccuracyRows.Print([30, 20, 12, 6, 0], [10, 30, 60], each, seeds, Console.WriteLine));
        }

        var wrong = heard.Where(one => one.Wrong() is not null).ToArray();
        foreach (var one in wrong)
        {
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"confidently wrong: {one.Scene.Watch?.VibrationsPerHour} at {one.Scene.SignalToNoiseDecibels:F0} dB, {one.Wrong()}"));
        }

        Console.WriteLine($"accuracy: {wrong.Length} of {heard.Count} recordings confidently wrong");
        return wrong.Length == 0 ? 0 : 1;
    }
}
