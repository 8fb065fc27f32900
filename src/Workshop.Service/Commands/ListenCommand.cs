using System.CommandLine;
using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using Workshop.Beats.Listening;
using Workshop.Beats.Recordings;
using Workshop.Core.Words;
using Workshop.Service.Prints.Plots;
using Workshop.Service.Prints.Recordings;

namespace Workshop.Service.Commands;

/// <summary><c>listen</c>: what a recording says of a watch, for a bench without the service; needs no database.</summary>
internal static class ListenCommand
{
    // A line is read by scripts, and a file's name may be in any language.
    private static readonly JsonSerializerOptions Line = new(JsonSerializerDefaults.Web) { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static Command Make()
    {
        var files = new Argument<string[]>("FILE") { Description = "WAV recordings of 5 to 60 seconds; they are worked through in order.", Arity = ArgumentArity.OneOrMore };
        var lift = new Option<double>("--lift-angle") { Description = "The lift angle of the calibre in degrees, 20 to 90; amplitudes are in proportion to it.", HelpName = "DEGREES", Required = true };
        lift.Validators.Add(given =>
        {
            if (!(given.GetValueOrDefault<double>() is >= 20 and <= 90))
            {
                given.AddError("--lift-angle is from 20 to 90 degrees.");
            }
        });
        var clock = new Option<double?>("--clock-ppm") { Description = "By how much the recorder's clock runs fast, in parts per million; not calibrated where left out.", HelpName = "PPM" };
        clock.Validators.Add(given =>
        {
            if (given.GetValueOrDefault<double?>() is { } ppm && !(Math.Abs(ppm) <= 1000))
            {
                given.AddError("--clock-ppm is from -1000 to 1000.");
            }
        });
        var json = new Option<bool>("--json") { Description = "Print one line of JSON for each file instead, for scripts." };
        var drawing = new Option<string>("--drawing") { Description = "Draw what the reading rests on, as an SVG; for one recording.", HelpName = "OUT.svg" };
        var command = new Command("listen", "Listens to recordings of a watch: rate, amplitude, beat error and frequency, each with its 95 % interval.") { files, lift, clock, json, drawing };
        command.Validators.Add(given =>
        {
            if (given.GetValue(drawing) is not null && given.GetValue(files) is not { Length: 1 })
            {
                given.AddError("--drawing is for one recording.");
            }
        });
        command.SetAction((given, cancel) =>
        {
            var parameters = new ListeningParameters(given.GetRequiredValue(lift), given.GetValue(clock));
            return Task.FromResult(ListenTo(given.GetRequiredValue(files), parameters, given.GetValue(json), given.GetValue(drawing), cancel));
        });
        return command;
    }

    /// <summary>All are listened to, whatever comes of one of them.</summary>
    private static int ListenTo(IReadOnlyList<string> files, ListeningParameters parameters, bool json, string? drawing, CancellationToken cancel)
    {
        var code = WorkshopCommand.Well;
        foreach (var file in files)
        {
            var answer = Hear(file, parameters, cancel);
            Console.WriteLine(json ? JsonSerializer.Serialize(answer.AsView(file), Line) : answer.AsText(file));
            code = answer.Reading is { Class: ReadingClass.Ok } ? code : WorkshopCommand.NotWell;
            if (drawing is not null && !Drawn(answer, file, drawing))
            {
                code = WorkshopCommand.NotWell;
            }
        }

        return code;
    }

    // Where there is nothing to act on nothing is drawn; the text has said why.
    private static bool Drawn(Answer answer, string file, string drawing)
    {
        if (answer is not { Reading: { } reading, Evidence: { } evidence })
        {
            return false;
        }

        try
        {
            File.WriteAllBytes(drawing, RecordingDrawing.Of(reading, evidence, Path.GetFileName(file), Language.English).Svg(PlotSheet.UsualWidth));
            return true;
        }
        catch (Exception unwritable) when (unwritable is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            Console.Error.WriteLine($"{drawing}: {unwritable.Message}");
            return false;
        }
    }

    private static Answer Hear(string file, ListeningParameters parameters, CancellationToken cancel)
    {
        try
        {
            using var stream = File.OpenRead(file);
            var (recording, fault) = WavReader.Read(stream, RecordingLimits.Usual, cancel);
            if (recording is null)
            {
                return new Answer(null, null, fault!.Code, fault.Sentence);
            }

            var (reading, evidence) = Listener.Hear(recording, parameters, cancel);
            return new Answer(reading, evidence, null, null);
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return new Answer(null, null, "not-readable", unreadable.Message);
        }
    }

    /// <summary>A reading, or why the file was refused.</summary>
    private sealed record Answer(Reading? Reading, Evidence? Evidence, string? RefusedAs, string? Because)
    {
        public ReadingView AsView(string file) => new(
            file,
            Reading is null ? "rejected" : Word(Reading.Class),
            RefusedAs ?? Reading?.Code,
            Reading?.Reasons ?? [RefusedAs!],
            Reading?.VibrationsPerHour,
            FigureView.Of(Reading?.RatePerDaySeconds, 4),
            FigureView.Of(Reading?.AmplitudeDegrees, 2),
            FigureView.Of(Reading?.BeatErrorMilliseconds, 4),
            Reading?.SignalToNoiseDecibels is { } decibels ? Math.Round(decibels, 2) : null,
            Reading is null ? null : Math.Round(Reading.Seconds, 4));

        public string AsText(string file)
        {
            if (Reading is not { } reading)
            {
                return $"{file}: refused, {RefusedAs}. {Because}";
            }

            var frequency = reading.VibrationsPerHour is { } vibrations ? string.Create(CultureInfo.InvariantCulture, $"{vibrations} vibrations an hour") : "no frequency";
            var lines = new List<string>
            {
                string.Create(CultureInfo.InvariantCulture, $"{file}: {Word(reading.Class)}, {reading.Seconds:F1} s, {frequency}, {reading.BeatsUsed} beats used"),
                Row("rate", reading.RatePerDaySeconds, "+0.00;-0.00;0.00", "s/d"),
                Row("amplitude", reading.AmplitudeDegrees, "0", "degrees"),
                Row("beat error", reading.BeatErrorMilliseconds, "0.00", "ms"),
            };
            if (reading.Reasons.Count > 0)
            {
                lines.Add($"  {"to know",-11}{string.Join(", ", reading.Reasons)}");
            }

            return string.Join(Environment.NewLine, lines);
        }

        private static string Row(string name, Beats.Listening.Figure figure, string format, string unit) => figure is { Value: { } value, Low: { } low, High: { } high }
            ? $"  {name,-11}{Number(value, format)} {unit}, between {Number(low, format)} and {Number(high, format)}, {Word(figure.Confidence)}"
            : $"  {name,-11}{Word(Confidence.Unavailable)}";

        private static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);

        private static string Word(Confidence confidence) => confidence switch
        {
            Confidence.Good => "good",
            Confidence.Fair => "fair",
            Confidence.Unavailable => "unavailable",
        };

        private static string Word(ReadingClass one) => one switch
        {
            ReadingClass.Ok => "ok",
            ReadingClass.Low => "low",
        };
    }

    private sealed record ReadingView(
        string File,
        string Class,
        string? Code,
        IReadOnlyList<string> Reasons,
        int? VibrationsPerHour,
        FigureView RatePerDaySeconds,
        FigureView AmplitudeDegrees,
        FigureView BeatErrorMilliseconds,
        double? SignalToNoiseDecibels,
        double? Seconds);

    private sealed record FigureView(double? Value, double? Low, double? High, string Confidence)
    {
        public static FigureView Of(Beats.Listening.Figure? figure, int decimals) => new(
            Rounded(figure?.Value, decimals),
            Rounded(figure?.Low, decimals),
            Rounded(figure?.High, decimals),
            figure?.Confidence switch
            {
                Beats.Listening.Confidence.Good => "good",
                Beats.Listening.Confidence.Fair => "fair",
                _ => "unavailable",
            });

        private static double? Rounded(double? value, int decimals) => value is { } number ? Math.Round(number, decimals) : null;
    }
}
