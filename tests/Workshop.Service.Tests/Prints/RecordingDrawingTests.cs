using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using SkiaSharp;
using Workshop.Beats.Listening;
using Workshop.Core.Words;
using Workshop.Service.Prints.Plots;
using Workshop.Service.Prints.Recordings;
using Figure = Workshop.Beats.Listening.Figure;

namespace Workshop.Service.Tests.Prints;

/// <summary>The statement of evidence of a recording, drawn from values that were put together by hand.</summary>
public partial class RecordingDrawingTests
{
    [Theory]
    [InlineData(280)]
    [InlineData(360)]
    [InlineData(720)]
    [InlineData(1440)]
    public void Nothing_lies_beyond_the_sheet_or_over_anything_else(int width)
    {
        foreach (var language in new[] { Language.English, Language.German })
        {
            var texts = Texts(Sheet(language: language).Svg(width));

            Assert.True(texts.Count > 60, $"{texts.Count} texts");
            Assert.All(texts, one => Assert.True(one.Box.Left >= 0 && one.Box.Right <= width + 0.5f, $"{width}: '{one.Words}' from {one.Box.Left} to {one.Box.Right}"));
            Assert.All(texts.Where(one => one.Words is "noise 1" or "Geräusch 1"), one => Assert.True(one.Box.Left > 40, $"{width}: '{one.Words}' from {one.Box.Left} lies across the axis"));
            foreach (var (one, k) in texts.Select((one, k) => (one, k)))
            {
                Assert.All(texts.Skip(k + 1), other => Assert.False(SKRect.Intersect(one.Box, other.Box) is { Width: > 0.5f, Height: > 0.5f }, $"{width}: '{one.Words}' over '{other.Words}'"));
            }
        }
    }

    [Fact]
    public void Time_runs_down_the_sheet_with_the_figures_of_each_stretch_and_their_confidence_beside_it()
    {
        var texts = Texts(Sheet().Svg(720));
        float Of(string words) => texts.First(one => one.Words == words).Box.MidY;

        Assert.True(Of("0–2 s") < Of("2–4 s") && Of("2–4 s") < Of("4–6 s"));
        Assert.Equal(Of("2–4 s"), Of("no rate"), 0.5);
        foreach (var (stretch, rate, amplitude, beatError) in new[] { ("0–2 s", "+5.0 ± 1.2 s/d, good", "281° ± 2°, good", "0.30 ± 0.05 ms, good"), ("4–6 s", "+7.0 ± 6.0 s/d, fair", "283° ± 2°, good", "0.30 ± 0.05 ms, good") })
        {
            Assert.All(new[] { rate, amplitude, beatError }, words => Assert.Contains(texts, one => one.Words == words && Math.Abs(one.Box.MidY - Of(stretch)) < 0.5));
        }
    }

    [Fact]
    public void An_uncalibrated_clock_the_parameters_and_the_version_are_said_in_words()
    {
        Assert.Contains(Sheet(clock: null).Caption, line => line.StartsWith("The recorder's clock is not calibrated", StringComparison.Ordinal));
        Assert.Contains(Sheet(clock: 3.2).Caption, line => line == "The recorder's clock is +3.2 ± 0.5 ppm fast, and the rate is free of that.");
        Assert.Contains(Sheet(clock: null, language: Language.German).Caption, line => line.StartsWith("Die Uhr des Aufnahmegeräts ist nicht abgeglichen", StringComparison.Ordinal));
        Assert.Contains(Sheet().Caption, line => line == "Lift angle 52°.");
        Assert.Contains(Sheet().Caption, line => line.StartsWith("Listened to by version 7 of the analyser. Computed by the definitions of rate", StringComparison.Ordinal));
    }

    [Fact]
    public void What_is_not_available_is_said_with_its_reason_and_a_mean_beat_without_unlocking_shows_none()
    {
        var sheet = Sheet(amplitude: Figure.Unavailable("amplitude-unlocking-not-found"), unlocking: null);

        Assert.Contains(sheet.Caption, line => line == "No amplitude.");
        Assert.Contains(sheet.Caption, line => line == "To know: amplitude: the unlocking is not found.");
        var words = Texts(sheet.Svg(720)).Select(one => one.Words).ToArray();
        Assert.Contains("Tick, dB: noise 1 does not stand out", words);
        Assert.DoesNotContain("noise 1", words);
        Assert.Contains("noise 3", words);
    }

    [Theory]
    [InlineData(Language.English)]
    [InlineData(Language.German)]
    public void The_same_is_drawn_to_the_last_byte_with_no_letter_missing_and_on_light_ground(Language language)
    {
        using var font = new SKFont(Workshop.Service.Prints.Print.Typeface(bold: false));

        Assert.Equal(Sheet(language: language).Svg(360), Sheet(language: language).Svg(360));
        Assert.DoesNotContain((ushort)0, font.GetGlyphs(string.Concat(Texts(Sheet(language: language).Svg(360)).Select(one => one.Words))));
        using var picture = SKBitmap.Decode(Sheet(language: language).Png(360, 1));
        Assert.True(picture.Pixels.Count(pixel => pixel.Red > 200) > picture.Pixels.Length * 0.85);
        Assert.DoesNotContain(XDocument.Parse(Encoding.UTF8.GetString(Sheet(language: language).Svg(360))).Descendants(), one => one.Name.LocalName is "circle" or "ellipse" or "image" or "script");
    }

    private static PlotSheet Sheet(double? clock = 3.2, Language language = Language.English, Figure? amplitude = null, PickedMoment? unlocking = null)
    {
        var rate = Good(5.32, 0.12);
        var reading = new Reading(ReadingClass.Ok, null, [.. amplitude?.Reasons ?? [], .. clock is null ? ["clock-uncalibrated"] : Array.Empty<string>()], 28800, Good(4, 0.001), rate, amplitude ?? Good(281, 2), Good(0.3, 0.05), 27.6, 30, 238, 14, new ListeningParameters(52, clock, 0.5), 7);
        var blocks = Enumerable.Range(0, 15).Select(k => new EvidenceBlock(
            2 * k, 2 * k + 2, 16, k == 1 ? Figure.Unavailable("too-few-beats") : BlockRate(k, 5), k == 1 ? Figure.Unavailable("too-few-beats") : BlockRate(k, -0.32), amplitude ?? Good(281 + k, 2), Good(0.3, 0.05))).ToArray();
        var first = amplitude is null ? new PickedMoment(-7.4, 0.06) : unlocking;
        var noise = new FoldedNoise(-11.4, 0.05, [.. Enumerable.Range(0, 388).Select(k => -11.4 + 0.05 * k).Select(at => Burst(at + 7.4, 18) + Burst(at, 30))], first, new PickedMoment(0, 0.06));
        return RecordingDrawing.Of(reading, new Evidence(blocks, noise, noise), "J7K3MQ4T: dial up, full wind", language);
    }

    private static Figure BlockRate(int k, double middle) => Figure.Of(middle + k % 5 * 0.5 + (k == 2 ? 1 : 0), new Parts(k == 2 ? 6 : 1.2, 0, null), k == 2 ? Confidence.Fair : Confidence.Good);

    private static double Burst(double after, double decibels) => after is >= 0 and < 2 ? decibels * (1 - after / 2) : 0;

    private static Figure Good(double value, double half) => Figure.Of(value, new Parts(half, 0, null), Confidence.Good);

    private static List<(string Words, SKRect Box)> Texts(byte[] svg) => [.. XDocument.Parse(Encoding.UTF8.GetString(svg)).Descendants().Where(one => one.Name.LocalName == "text").Select(text =>
    {
        var (size, words) = (Number(text.Attribute("font-size")!.Value), text.Value.Trim());
        using var font = new SKFont(Workshop.Service.Prints.Print.Typeface(text.Attribute("font-weight") is not null), size);
        var moved = text.Attribute("transform")?.Value is { } transform && transform.StartsWith("translate", StringComparison.Ordinal) ? Numbers().Matches(transform).Select(one => Number(one.Value)).ToArray() : [0, 0];
        var (left, baseLine) = (Number(text.Attribute("x")!.Value) + moved[0], Number(text.Attribute("y")!.Value) + moved[1]);
        return (words, new SKRect(left, baseLine - 0.72f * size, left + font.MeasureText(words), baseLine + 0.2f * size));
    })];

    private static float Number(string text) => float.Parse(Numbers().Match(text).Value, System.Globalization.CultureInfo.InvariantCulture);

    [GeneratedRegex(@"-?[\d.]+")]
    private static partial Regex Numbers();
}
