using System.Text;
using SkiaSharp;

namespace Workshop.Service.Prints;

/// <summary>
/// Something drawn once and given as SVG, PNG or PDF. Whoever draws counts in millimetres from the upper left corner; nothing of the machine
/// it runs on shows in it, the fonts come from the program.
/// </summary>
public static class Print
{
    public const string SvgType = "image/svg+xml";
    public const string PngType = "image/png";
    public const string PdfType = "application/pdf";

    private const float PointsPerMillimetre = 72f / 25.4f;

    private static readonly SKTypeface Regular = Font("PublicSans-Regular.ttf");
    private static readonly SKTypeface Bold = Font("PublicSans-Bold.ttf");

    /// <summary>Letters of a size, from one line to the next without leading; their widths are those of the font, not of dots on a screen.</summary>
    internal static SKFont Letters(float millimetres, bool bold = false) =>
        new(bold ? Bold : Regular, millimetres) { Subpixel = true, LinearMetrics = true, Hinting = SKFontHinting.None };

    /// <summary>The largest size up to a limit in which the text is no wider than this.</summary>
    public static float Fit(string text, float width, float atMost, bool bold = false)
    {
        using var font = Letters(atMost, bold);
        var needs = font.MeasureText(text);
        return needs <= width ? atMost : atMost * width / needs;
    }

    /// <summary>A picture of a size in the world, every letter an outline, so that it looks the same wherever it is printed.</summary>
    /// <param name="title">What a reader aloud says.</param>
    public static byte[] Svg(float width, float height, string title, Action<Drawing> draw)
    {
        using var written = new MemoryStream();
        using (var whole = new SKManagedWStream(written))
        using (var canvas = SKSvgCanvas.Create(SKRect.Create(width, height), whole))
        {
            draw(new Drawing(canvas, outlines: true));
        }

        // Skia says its units and leaves out the size in the world.
        var text = Encoding.UTF8.GetString(written.ToArray());
        var from = text.IndexOf("<svg", StringComparison.Ordinal);
        var inside = text[(text.IndexOf('>', from) + 1)..];
        return Encoding.UTF8.GetBytes(FormattableString.Invariant(
            $"""<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}" role="img"><title>{System.Net.WebUtility.HtmlEncode(title)}</title>{inside}"""));
    }

    public static byte[] Png(float width, float height, int dotsPerMillimetre, Action<Drawing> draw)
    {
        using var surface = SKSurface.Create(new SKImageInfo((int)MathF.Round(width * dotsPerMillimetre), (int)MathF.Round(height * dotsPerMillimetre)));
        surface.Canvas.Clear(SKColors.White);
        surface.Canvas.Scale(dotsPerMillimetre);
        draw(new Drawing(surface.Canvas, outlines: false));
        using var image = surface.Snapshot();
        using var encoded = image.Encode(SKEncodedImageFormat.Png, 100);
        return encoded.ToArray();
    }

    /// <param name="pages">One drawing a page.</param>
    public static byte[] Pdf(float width, float height, string title, IEnumerable<Action<Drawing>> pages)
    {
        using var written = new MemoryStream();
        using (var document = SKDocument.CreatePdf(written, new SKDocumentPdfMetadata { Title = title, Producer = "Workshop", Creation = null, Modified = null }))
        {
            foreach (var draw in pages)
            {
                var canvas = document.BeginPage(width * PointsPerMillimetre, height * PointsPerMillimetre);
                canvas.Scale(PointsPerMillimetre);
                draw(new Drawing(canvas, outlines: false));
                document.EndPage();
            }

            document.Close();
        }

        return written.ToArray();
    }

    internal static SKTypeface Typeface(bool bold) => bold ? Bold : Regular;

    private static SKTypeface Font(string name)
    {
        using var data = SKData.CreateCopy(FontBytes(name));
        return SKTypeface.FromData(data);
    }

    /// <summary>A font of the program, <c>PublicSans-Regular.ttf</c> or <c>PublicSans-Bold.ttf</c>.</summary>
    internal static byte[] FontBytes(string name)
    {
        using var stream = typeof(Print).Assembly.GetManifestResourceStream($"Fonts/{name}")
            ?? throw new InvalidOperationException($"The font {name} is not in the program.");
        using var whole = new MemoryStream();
        stream.CopyTo(whole);
        return whole.ToArray();
    }
}
