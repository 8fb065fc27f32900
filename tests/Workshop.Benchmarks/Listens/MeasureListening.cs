using System.CommandLine;
using System.Diagnostics;
using Workshop.Beats.Listening;
using Workshop.Beats.Recordings;
using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Benchmarks.Listens;

/// <summary>
/// <c>listen</c>: how fast a recording of 96 kHz, 24 bit, stereo is listened to on one processor, against the time it took to play, what memory
/// that takes beyond the program's own, and how both grow with the recording.
/// </summary>
internal static class MeasureListening
{
    private const double LeastTimesRealTime = 150;
    private const double MostMebibytes = 64;

    // A recording twice as long may take this much more than twice as long.
    private const double MostAboveLinear = 1.3;

    private const int Repeats = 9;
    private const int WarmUps = 12;

    private static readonly int[] Lengths = [15, 30, 60];

    public static Command Command()
    {
        var command = new Command("listen", "Listening to a recording on one processor, against the time it played, and the memory it takes.");
        command.SetAction(_ => Measure());
        return command;
    }

    private static int Measure()
    {
        var folder = Directory.CreateTempSubdirectory("listen-");
        try
        {
            var files = Lengths.Select(seconds => Record(folder.FullName, seconds)).ToArray();
            for (var n = 0; n < WarmUps; n++)
            {
                Listen(files[^1]);
            }

            var taken = files.Select(Seconds).ToArray();
            for (var i = 0; i < files.Length; i++)
            {
                Say($"{Lengths[i]} s at 96 kHz, 24 bit, stereo: median of {Repeats} is {1000 * taken[i]:0} ms of processor time, {Lengths[i] / taken[i]:0} times real time");
            }

            var memory = Mebibytes(files[^1]);
            var times = Lengths[^1] / taken[^1];
            var growth = taken[^1] / taken[0] / (Lengths[^1] / (double)Lengths[0]);
            Say($"memory: at its highest {memory:0.0} MiB above what the program held before");
            Say($"listen: speed {times / LeastTimesRealTime:0.00} of {LeastTimesRealTime:0} times real time, memory {memory / MostMebibytes:0.00} of {MostMebibytes:0} MiB, growth {growth:0.00} (1 is linear)");
            var well = times >= LeastTimesRealTime && memory <= MostMebibytes && growth <= MostAboveLinear;
            Say($"listen: ratio {Math.Max(LeastTimesRealTime / times, memory / MostMebibytes):0.00}");
            return well ? 0 : 1;
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static string Record(string folder, int seconds)
    {
        var scene = new Scene { Seconds = seconds, SampleRate = 96000, Bits = 24, Stereo = Stereo.Same, Watch = new Watch { RatePerDaySeconds = 7 } };
        var file = Path.Combine(folder, FormattableString.Invariant($"{seconds}.wav"));
        File.WriteAllBytes(file, Recorder.Take(scene).File);
        return file;
    }

    private static Reading Listen(string file)
    {
        using var stream = File.OpenRead(file);
        var reading = Listener.Listen(WavReader.Read(stream, RecordingLimits.Usual, default).Recording!, new ListeningParameters(52, 0), default);
        return reading.Class == ReadingClass.Ok ? reading : throw new InvalidOperationException($"'{file}' was not heard: {reading.Code}.");
    }

    /// <summary>Processor time of the whole process, so that nothing is gained by a second processor.</summary>
    private static double Seconds(string file)
    {
        var taken = new double[Repeats];
        using var own = Process.GetCurrentProcess();
        for (var n = 0; n < Repeats; n++)
        {
            own.Refresh();
            var before = own.TotalProcessorTime;
            Listen(file);
            own.Refresh();
            taken[n] = (own.TotalProcessorTime - before).TotalSeconds;
        }

        return taken.Order().ElementAt(Repeats / 2);
    }

    // proc(5): writing 5 to clear_refs sets the highest resident size back to what is held now.
    private static double Mebibytes(string file)
    {
        GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
        File.WriteAllText("/proc/self/clear_refs", "5");
        var before = ProcessMemory.HighestMebibytesOfThis();
        Listen(file);
        return ProcessMemory.HighestMebibytesOfThis() - before;
    }

    private static void Say(FormattableString line) => Console.WriteLine(FormattableString.Invariant(line));
}
