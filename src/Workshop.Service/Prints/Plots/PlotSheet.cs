using System.Collections.Immutable;
using System.Text;
using System.Text.RegularExpressions;
using SkiaSharp;

namespace Workshop.Service.Prints.Plots;

/// <summary>One drawing on a sheet.</summary>
/// <param name="HeightOfWidth">Its height for a width, in dots of a screen.</param>
/// <param name="Draw">Fills the frame it is given.</param>
internal sealed record PlotPanel(Func<float, float> HeightOfWidth, Action<PlotFrame> Draw);

/// <summary>
/// A plot with what is said of it: a heading, one drawing or two, and sentences beneath. Drawn once and given as SVG or PNG; light ground,
/// ink and one accent, so that it can be read in black and white. Widths are in dots of a screen.
/// </summary>
/// <param name="Caption">Sentences; what somebody who does not see the drawing needs to know is among them.</param>
internal sealed partial record PlotSheet(string Heading, ImmutableArray<string> Caption, ImmutableArray<PlotPanel> Panels)
{
    public const int NarrowestWidth = 280;
    public const int WidestWidth = 2_400;
    public const int UsualWidth = 720;

    /// <summary>Dots of a picture for each dot of the width: 1 for a screen, 3.125 for 300 dots an inch on paper.</summary>
    public const decimal LargestScale = 4;

    private const float LineOfLetters = 1.38f;

    // ScottPlot keeps its fonts and styles in statics; plots are asked for seldom, and each takes some hundredths of a second.
    private static readonly Lock OneAtATime = new();

    public byte[] Svg(int width)
    {
        lock (OneAtATime)
        {
            PlotFonts.Ready();
            var height = Height(width);
            using var written = new MemoryStream();
            using (var whole = new SKManagedWStream(written))
            using (var canvas = SKSvgCanvas.Create(SKRect.Create(width, height), whole))
            {
                Draw(canvas, width, height);
            }

            var text = Encoding.UTF8.GetString(written.ToArray());
            var from = text.IndexOf("<svg", StringComparison.Ordinal);
            var inside = Renumbered(text[(text.IndexOf('>', from) + 1)..]);
            var (title, description) = (System.Net.WebUtility.HtmlEncode(Heading), System.Net.WebUtility.HtmlEncode(string.Join(' ', Caption)));
            return Encoding.UTF8.GetBytes(FormattableString.Invariant(
                $"""<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="{width}" height="{height}" viewBox="0 0 {width} {height}" role="img"><title>{title}</title><desc>{description}</desc><style>{PlotFonts.StyleSheet}</style>{inside}"""));
        }
    }

    public byte[] Png(int width, decimal scale)
    {
        lock (OneAtATime)
        {
            PlotFonts.Ready();
            var height = Height(width);
            using var surface = SKSurface.Create(new SKImageInfo((int)Math.Round(width * scale), (int)Math.Round((decimal)height * scale)));
            surface.Canvas.Scale((float)scale);
            Draw(surface.Canvas, width, height);
            using var image = surface.Snapshot();
            using var encoded = image.Encode(SKEncodedImageFormat.Png, 100);
            return encoded.ToArray();
        }
    }

    // Skia counts its clips from the start of the program; the same plot is to be the same text.
    private static string Renumbered(string inside)
    {
        var numbers = new Dictionary<string, int>(StringComparer.Ordinal);
        return ClipNames().Replace(inside, name => numbers.TryGetValue(name.Value, out var known) ? $"clip-{known}" : $"clip-{numbers[name.Value] = numbers.Count + 1}");
    }

    [GeneratedRegex(@"\bcl_[0-9a-f]+\b")]
    private static partial Regex ClipNames();

    private void Draw(SKCanvas canvas, int width, float height)
    {
        using var paper = new SKPaint { Color = SKColor.Parse(PlotFrame.Paper) };
        canvas.DrawRect(0, 0, width, height, paper);
        var (size, margin) = (LetterOf(width), MarginOf(width));
        var top = margin;
        top = Lines(canvas, Heading, margin, top, width, size * 1.25f, bold: true) + (size * 0.6f);
        foreach (var panel in Panels)
        {
            var tall = panel.HeightOfWidth(width);
            var frame = new PlotFrame(width - (2 * margin), tall, size);
            panel.Draw(frame);
            frame.Render(canvas, margin, top);
            top += tall + (size * 0.6f);
        }

        foreach (var sentence in Caption)
        {
            top = Lines(canvas, sentence, margin, top, width, size, bold: false) + (size * 0.25f);
        }
    }

    private float Height(int width)
    {
        var (size, margin) = (LetterOf(width), MarginOf(width));
        var room = width - (2 * margin);
        return MathF.Ceiling(
            (2 * margin)
            + (Wrapped(Heading, room, size * 1.25f, true).Count * size * 1.25f * LineOfLetters) + (size * 0.6f)
            + Panels.Sum(panel => panel.HeightOfWidth(width) + (size * 0.6f))
            + Caption.Sum(sentence => (Wrapped(sentence, room, size, false).Count * size * LineOfLetters) + (size * 0.25f)));
    }

    private static float Lines(SKCanvas canvas, string text, float left, float top, int width, float size, bool bold)
    {
        using var font = Print.Letters(size, bold);
        using var ink = new SKPaint { Color = SKColor.Parse(PlotFrame.Ink), IsAntialias = true };
        foreach (var line in Wrapped(text, width - (2 * left), size, bold))
        {
            canvas.DrawText(line, left, top + size, font, ink);
            top += size * LineOfLetters;
        }

        return top;
    }

    private static List<string> Wrapped(string text, float room, float size, bool bold)
    {
        using var font = Print.Letters(size, bold);
        var lines = new List<string>();
        var line = "";
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var longer = line.Length == 0 ? word : $"{line} {word}";
            if (line.Length > 0 && font.MeasureText(longer) > room)
            {
                lines.Add(line);
                line = word;
            }
            else
            {
                line = longer;
            }
        }

        lines.Add(line);
        return lines;
    }

    // Letters do not shrink with the picture: what is narrow is read at arm's length all the same.
    private static float LetterOf(int width) => width switch { < 480 => 11.5f, < 1_000 => 13, _ => 15 };

    private static float MarginOf(int width) => width < 480 ? 12 : 20;
}
