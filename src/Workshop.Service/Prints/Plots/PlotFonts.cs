using ScottPlot;
using SkiaSharp;

namespace Workshop.Service.Prints.Plots;

/// <summary>Gives plots the program's own letters, whatever fonts the machine has or lacks.</summary>
internal sealed class PlotFonts : IFontResolver
{
    public const string Family = "Public Sans";

    private const int BoldFrom = 600;

    // Inside an SVG each letter has its place by this font; with another one they would run into each other.
    private static readonly Lazy<string> Embedded = new(() => string.Concat(new[] { (Weight: 400, File: "PublicSans-Regular.ttf"), (Weight: 700, File: "PublicSans-Bold.ttf") }.Select(one =>
        $"@font-face{{font-family:\"{Family}\";font-weight:{one.Weight};src:url(data:font/ttf;base64,{Convert.ToBase64String(Print.FontBytes(one.File))})}}")));

    static PlotFonts()
    {
        Fonts.FontResolvers.Insert(0, new PlotFonts());
        Fonts.Default = Family;
    }

    /// <summary>The fonts as a style sheet for an SVG that stands alone.</summary>
    public static string StyleSheet => Embedded.Value;

    public SKTypeface CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) => Print.Typeface((int)weight >= BoldFrom);

    public SKTypeface CreateTypeface(string fontName, bool bold, bool italic) => Print.Typeface(bold);

    /// <summary>Done before the first plot: a static constructor runs once, and not before anybody draws.</summary>
    public static void Ready()
    {
    }
}
