using System.Text.Json;
using Workshop.Beats.Tests.Synthetic;
using Workshop.Service.Commands;

namespace Workshop.Service.Tests.Commands;

/// <summary>What a bench without the service is told of its recordings, with the process's own output.</summary>
[CollectionDefinition(nameof(OwnsTheConsole), DisableParallelization = true)]
public class OwnsTheConsole;

[Collection(nameof(OwnsTheConsole))]
public sealed class ListenCommandTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("workshop-listen-");

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public async Task Each_file_gets_its_line_in_order_whatever_comes_of_the_others()
    {
        var watch = Saved("watch.wav", Recorder.Take(new Scene { Watch = new Watch { RatePerDaySeconds = 4 } }).File);
        var text = Saved("note.wav", "Not a sound."u8.ToArray());
        var noise = Saved("noise.wav", Recorder.Take(new Scene { Watch = null }).File);
        var missing = Path.Combine(folder.FullName, "missing.wav");

        var (code, said) = await Run("listen", watch, text, noise, missing, "--lift-angle", "52", "--clock-ppm", "0", "--json");

        Assert.Equal(WorkshopCommand.NotWell, code);
        var lines = said.Trim().Split('\n').Select(one => JsonDocument.Parse(one).RootElement).ToArray();
        Assert.Equal([watch, text, noise, missing], lines.Select(one => one.GetProperty("file").GetString()));
        Assert.Equal(["ok", "rejected", "low", "rejected"], lines.Select(one => one.GetProperty("class").GetString()));
        Assert.Equal([null, "not-wav", "no-beat", "not-readable"], lines.Select(one => one.GetProperty("code").GetString()));
        Assert.Equal(
            ["file", "class", "code", "reasons", "vibrationsPerHour", "ratePerDaySeconds", "amplitudeDegrees", "beatErrorMilliseconds", "signalToNoiseDecibels", "seconds"],
            lines[0].EnumerateObject().Select(one => one.Name));
        Assert.Equal(["value", "low", "high", "confidence"], lines[0].GetProperty("ratePerDaySeconds").EnumerateObject().Select(one => one.Name));
        Assert.Equal(28800, lines[0].GetProperty("vibrationsPerHour").GetInt32());
        Assert.Equal(4, lines[0].GetProperty("ratePerDaySeconds").GetProperty("value").GetDouble(), 0.1);
        Assert.Equal("good", lines[0].GetProperty("ratePerDaySeconds").GetProperty("confidence").GetString());
        Assert.Equal("unavailable", lines[1].GetProperty("amplitudeDegrees").GetProperty("confidence").GetString());
    }

    [Fact]
    public async Task A_person_reads_the_same_figures_with_their_units()
    {
        var watch = Saved("watch.wav", Recorder.Take(new Scene { Watch = new Watch { RatePerDaySeconds = 4 } }).File);

        var (code, said) = await Run("listen", watch, "--lift-angle", "52");

        Assert.Equal(WorkshopCommand.Well, code);
        Assert.Contains("28800 vibrations an hour", said);
        Assert.Matches(@"rate +\+[34]\.\d\d s/d, between \+3\.\d\d and \+4\.\d\d, good", said);
        Assert.Matches(@"amplitude +2\d\d degrees", said);
        Assert.Contains("clock-uncalibrated", said);
    }

    [Fact]
    public async Task What_a_reading_rests_on_is_drawn_where_somebody_asks_and_there_is_something_to_act_on()
    {
        var watch = Saved("watch.wav", Recorder.Take(new Scene { Seconds = 10 }).File);
        var noise = Saved("noise.wav", Recorder.Take(new Scene { Watch = null, Seconds = 10 }).File);
        var (drawn, nothing) = (Path.Combine(folder.FullName, "drawn.svg"), Path.Combine(folder.FullName, "nothing.svg"));

        Assert.Equal(WorkshopCommand.Well, (await Run("listen", watch, "--lift-angle", "52", "--drawing", drawn)).Code);
        Assert.Equal(WorkshopCommand.NotWell, (await Run("listen", noise, "--lift-angle", "52", "--drawing", nothing)).Code);
        Assert.Equal(WorkshopCommand.NotBegun, (await Run("listen", watch, noise, "--lift-angle", "52", "--drawing", nothing)).Code);

        Assert.Contains("watch.wav", await File.ReadAllTextAsync(drawn));
        Assert.False(File.Exists(nothing));
    }

    [Theory]
    [InlineData("5")]
    [InlineData("NaN")]
    public async Task A_lift_angle_that_no_calibre_has_is_not_begun_with(string angle) =>
        Assert.Equal(WorkshopCommand.NotBegun, (await Run("listen", "any.wav", "--lift-angle", angle)).Code);

    private static async Task<(int Code, string Said)> Run(params string[] arguments)
    {
        var (usual, complaints) = (Console.Out, Console.Error);
        await using var said = new StringWriter();
        try
        {
            Console.SetOut(said);
            Console.SetError(TextWriter.Null);
            return (await WorkshopCommand.Run(arguments), said.ToString());
        }
        finally
        {
            Console.SetOut(usual);
            Console.SetError(complaints);
        }
    }

    private string Saved(string name, byte[] file)
    {
        var path = Path.Combine(folder.FullName, name);
        File.WriteAllBytes(path, file);
        return path;
    }
}
