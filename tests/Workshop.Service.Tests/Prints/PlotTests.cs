using System.Collections.Immutable;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using NodaTime;
using SkiaSharp;
using Workshop.Core.Charts;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Features.Charts;
using Workshop.Service.Prints.Plots;

namespace Workshop.Service.Tests.Prints;

/// <summary>What is drawn, without a shop around it.</summary>
public partial class PlotTests
{
    public static TheoryData<string, Language> All
    {
        get
        {
            var all = new TheoryData<string, Language>();
            foreach (var name in new[] { "ladder", "ladder-one", "amplitude", "readings", "chart", "chart-few" })
            {
                all.Add(name, Language.English);
                all.Add(name, Language.German);
            }

            return all;
        }
    }

    [Theory, MemberData(nameof(All))]
    public void An_svg_has_its_words_as_text_and_brings_the_font_along(string name, Language language)
    {
        var svg = XDocument.Parse(Encoding.UTF8.GetString(Sheet(name, language).Svg(720)));

        var texts = svg.Descendants().Where(one => one.Name.LocalName == "text").ToArray();
        Assert.True(texts.Length > 8, $"{texts.Length} texts");
        Assert.All(texts, text => Assert.Equal("Public Sans", text.Attribute("font-family")?.Value));
        Assert.Contains("@font-face{font-family:\"Public Sans\";font-weight:400;src:url(data:font/ttf;base64,", svg.Descendants().Single(one => one.Name.LocalName == "style").Value, StringComparison.Ordinal);
        Assert.NotEmpty(svg.Root!.Elements().First(one => one.Name.LocalName == "title").Value);
        Assert.DoesNotContain(svg.Descendants(), one => one.Name.LocalName is "circle" or "ellipse" or "image" or "script");
    }

    [Theory, MemberData(nameof(All))]
    public void No_letter_is_missing_in_the_font(string name, Language language)
    {
        using var font = new SKFont(Workshop.Service.Prints.Print.Typeface(bold: false));

        var words = string.Concat(XDocument.Parse(Encoding.UTF8.GetString(Sheet(name, language).Svg(720))).Descendants().Where(one => one.Name.LocalName == "text").Select(one => one.Value.Trim()));

        Assert.NotEmpty(words);
        Assert.DoesNotContain((ushort)0, font.GetGlyphs(words));
    }

    [Theory, MemberData(nameof(All))]
    public void The_same_is_drawn_to_the_last_byte_and_every_letter_lies_on_the_sheet(string name, Language language)
    {
        foreach (var width in new[] { 280, 360, 720, 1440 })
        {
            var sheet = Sheet(name, language);
            var svg = sheet.Svg(width);

            Assert.Equal(svg, Sheet(name, language).Svg(width));
            Assert.Equal(sheet.Png(width, 1), Sheet(name, language).Png(width, 1));
            var root = XDocument.Parse(Encoding.UTF8.GetString(svg)).Root!;
            Assert.Equal($"{width}", root.Attribute("width")!.Value);
            foreach (var text in root.Descendants().Where(one => one.Name.LocalName == "text"))
            {
                var (size, bold) = (Number(text.Attribute("font-size")!.Value), text.Attribute("font-weight") is not null);
                using var font = new SKFont(Workshop.Service.Prints.Print.Typeface(bold), size);

                // A turned or moved text counts from where it was moved to.
                var from = Number(text.Attribute("x")!.Value) + (text.Attribute("transform")?.Value is { } moved && moved.StartsWith("translate", StringComparison.Ordinal) ? Number(moved) : 0);
                Assert.True(size >= 11, $"'{text.Value.Trim()}' is written in {size}");
                Assert.True(from >= -0.5f && from + font.MeasureText(text.Value.Trim()) <= width + 0.5f, $"{width}: '{text.Value.Trim()}' from {from}");
            }
        }
    }

    [Fact]
    public void A_picture_has_the_dots_asked_for_and_its_scale()
    {
        using var plain = SKBitmap.Decode(Sheet("ladder", Language.English).Png(360, 1));
        using var printed = SKBitmap.Decode(Sheet("ladder", Language.English).Png(360, 3.125m));

        Assert.Equal((360, 1125), (plain.Width, printed.Width));
        Assert.InRange(printed.Height, (plain.Height * 3.125m) - 2, (plain.Height * 3.125m) + 2);

        // Light ground: the corners are paper, and most of the sheet is.
        Assert.Equal(SKColor.Parse(PlotFrame.Paper), plain.GetPixel(1, 1));
        Assert.True(plain.Pixels.Count(pixel => pixel.Red > 200) > plain.Pixels.Length * 0.85);
    }

    [Fact]
    public void A_kind_of_work_without_a_tolerance_has_no_tint_and_says_so()
    {
        Assert.Contains(Words("ladder-one"), line => line == "No tolerance is set for this kind of work.");
        Assert.Contains(Words("ladder"), line => line.StartsWith("Tint: window of the mean, −4.0 to +10.0 s/d", StringComparison.Ordinal));
        var tint = PlotFrame.Tint;
        Assert.DoesNotContain(tint, Encoding.UTF8.GetString(Sheet("ladder-one", Language.English).Svg(720)), StringComparison.OrdinalIgnoreCase);
        Assert.Contains(tint, Encoding.UTF8.GetString(Sheet("ladder", Language.English).Svg(720)), StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("3", "4", 0.5)]
    [InlineData("3.0", "4", 0.5)]
    [InlineData("3.5", "4", 0.05)]
    [InlineData("3.25", "4", 0.005)]
    public void The_bar_is_half_a_step_of_the_finest_figure_told(string one, string other, double half)
    {
        decimal[] rates = [.. new[] { one, other }.Select(text => decimal.Parse(text, System.Globalization.CultureInfo.InvariantCulture))];

        Assert.Equal((decimal)half, LadderPlot.HalfStep(Set(0, "acoustic-1", [(Position.DialUp, rates[0], 280), (Position.CrownUp, rates[1], 250)])));
    }

    [Fact]
    public void A_chart_with_points_outside_names_them_and_one_with_few_says_why_it_has_no_limits()
    {
        Assert.Contains(Words("chart"), line => line.Contains("lies above the upper limit", StringComparison.Ordinal));
        Assert.Contains(Words("chart-few"), line => line == "5 worn checks: no limits before there are 8.");
    }

    private static ImmutableArray<string> Words(string name) => Sheet(name, Language.English).Caption;

    internal static PlotSheet Sheet(string name, Language language)
    {
        var received = Set(0, "acoustic-1", [(Position.DialUp, -14, 231), (Position.DialDown, -12, 228), (Position.CrownUp, -19, 205), (Position.CrownDown, -25, 201), (Position.CrownLeft, -18, 204), (Position.CrownRight, -21, 199)]);
        var now = Set(30, "acoustic-2", [(Position.DialUp, 4.5m, 291), (Position.DialDown, 4.4m, 288), (Position.CrownUp, 4.2m, 262), (Position.CrownDown, -1.8m, 259), (Position.CrownLeft, 1, 263), (Position.CrownRight, 3.1m, 258)]);
        var later = Set(54, "acoustic-2", [(Position.DialUp, 6.5m, 262), (Position.DialDown, 6.1m, 258), (Position.CrownUp, 5, 231), (Position.CrownDown, -3, 226)]);
        var kind = ToleranceKind.UsualByName["modern-automatic"];
        return name switch
        {
            "ladder" => new LadderPlot("J7K3MQ4T", received, now, "Mon 2 Mar 09:10 (acoustic-1)", "Wed 4 Mar 16:20 (acoustic-2)", kind.Worn(), kind.Kind, language).Sheet(),
            "ladder-one" => new LadderPlot("J7K3MQ4T", null, now, null, "Wed 4 Mar 16:20 (acoustic-2)", null, null, language).Sheet(),
            "amplitude" => new AmplitudePlot("J7K3MQ4T", [new WoundSet(0, now), new WoundSet(7, later), new WoundSet(24, later)], 1, true, kind, language).Sheet(),
            "readings" => new WearReadingsPlot(
                "J7K3MQ4T", 2, WearCheckKind.Worn, [new(0, 2.0m, 1), new(24, 5.1m, 1), new(49, 8.4m, 1), new(72, 11.0m, 1), new(96.5m, 14.3m, 1)],
                new OffsetLine(2.04592m, 3.03805m, 0.1324m), new RateWindow(-4, 10), WearVerdict.Pass, null, language).Sheet(),
            "chart" => Chart([.. Enumerable.Range(0, 34).Select(i => Math.Round((decimal)(3 + (2 * Math.Sin(i * 2.1)) + (0.6 * Math.Cos(i * 5.3))), 1) + (i is 27 ? 8 : i > 30 ? 6 : 0))], language),
            _ => Chart([3.1m, 2.2m, 4.4m, 1.9m, 2.8m], language),
        };
    }

    private static PlotSheet Chart(ImmutableArray<decimal> rates, Language language) => new FoundChart(
        new ChartSeries("bench-2", "acoustic-1"), null,
        [.. rates.Index().Select(one => (Workshop.Core.Labels.Label.Complete(Workshop.Core.Labels.LabelKind.Job, [1, 1, 1, 1, 1, one.Index % 29]), new WornRate(new EventId("/devices/bench-2/1", $"e{one.Index}"), Instant.FromUtc(2026, 3, 2, 9, 0) + Duration.FromDays(one.Index), "bench-2", "mara", "acoustic-1", one.Item)))],
        ControlChart.Of(rates, ChartRules.Usual), 1, TestRules).Plot(language).Sheet();

    private static RateSet Set(int hours, string instrument, (Position Position, decimal Rate, decimal Amplitude)[] readings)
    {
        ImmutableArray<RateReading> told = [.. readings.Select(one => new RateReading(one.Position, one.Rate, one.Amplitude))];
        return new RateSet(
            new EventId("/devices/bench-2/1", $"s{hours}"), Instant.FromUtc(2026, 3, 2, 8, 10) + Duration.FromHours(hours),
            new RateSetRecorded { WindState = WindState.Full, Instrument = instrument, Readings = told }, RateSetFigures.Of(told)!);
    }

    private static Workshop.Core.Shop.ShopRules TestRules { get; } = new()
    {
        Version = 1,
        Calendar = new Workshop.Core.Shop.ShopCalendar(
            DateTimeZoneProviders.Tzdb["Europe/Zurich"],
            new Dictionary<IsoDayOfWeek, ImmutableArray<Workshop.Core.Shop.OpenSpan>> { [IsoDayOfWeek.Monday] = [new(new LocalTime(9, 0), new LocalTime(18, 0))] }),
        Routes = System.Collections.Frozen.FrozenDictionary<string, Workshop.Core.Route.RouteDefinition>.Empty,
        People = System.Collections.Frozen.FrozenDictionary<string, Workshop.Core.Shop.ShopPerson>.Empty,
    };

    private static float Number(string text) => float.Parse(Numbers().Match(text).Value, System.Globalization.CultureInfo.InvariantCulture);

    [GeneratedRegex(@"-?[\d.]+")]
    private static partial Regex Numbers();
}
