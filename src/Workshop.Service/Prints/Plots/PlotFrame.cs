using System.Globalization;
using ScottPlot;
using ScottPlot.TickGenerators;
using SkiaSharp;

namespace Workshop.Service.Prints.Plots;

/// <summary>How a line is drawn; told apart in black and white too.</summary>
internal enum Stroke
{
    Whole,
    Dashed,
    Dotted,
}

/// <summary>Marks that differ in form: a bar that lies, a bar that stands, a full square, an open diamond.</summary>
internal enum Mark
{
    Lying,
    Standing,
    Full,
    Open,
}

/// <summary>Where a text stands against its point.</summary>
internal enum Beside
{
    Left,
    Right,
    Above,
    Below,
    Centre,
}

/// <summary>
/// A plot of rectangular axes in the house's own hand: no dial, no circle, no dark ground. Whoever draws sets the ranges first; dots are
/// those of a screen.
/// </summary>
internal sealed class PlotFrame
{
    public const string Paper = "#FDFBF6";
    public const string Ink = "#23211D";

    /// <summary>What is drawn with it differs in form as well.</summary>
    public const string Accent = "#9A3B26";

    /// <summary>What is allowed, as a tint of the paper; its edge is drawn, so that a copy shows it.</summary>
    public const string Tint = "#EFE6CF";

    public const string Faint = "#DDD6C6";
    public const string Grey = "#7A746A";

    private const float TickLength = 4;

    private readonly Plot plot = new();
    private readonly float width;
    private readonly float height;
    private (double Low, double High) across;
    private (double Low, double High) up;
    private PixelPadding room;
    private readonly List<Tick> rightTicks = [];

    public PlotFrame(float width, float height, float letter)
    {
        (this.width, this.height, Letter) = (width, height, letter);
        plot.FigureBackground.Color = Color.FromHex(Paper);
        plot.DataBackground.Color = Color.FromHex(Paper);
        plot.HideGrid();

        // The sheet is one canvas for everything on it.
        plot.RenderManager.RenderActions.RemoveAll(action => action is ScottPlot.Rendering.RenderActions.ClearCanvas);
        plot.Axes.Color(Color.FromHex(Ink));
        plot.Font.Set(PlotFonts.Family);
        plot.Axes.Right.FrameLineStyle.Width = 0;
        plot.Axes.Top.FrameLineStyle.Width = 0;
        room = new PixelPadding(letter * 3.2f, 2, letter * 1.9f, letter * 0.5f);
    }

    /// <summary>The size of its letters.</summary>
    public float Letter { get; }

    /// <summary>There is no room to spare.</summary>
    public bool Narrow => width < 460;

    /// <summary>Dots that lie within the axes.</summary>
    public float Across => width - room.Left - room.Right;

    public float Upwards => height - room.Top - room.Bottom;

    public static float WidthOf(string text, float size, bool bold = false)
    {
        using var font = Print.Letters(size, bold);
        return font.MeasureText(text);
    }

    /// <summary>Room outside the axes, in letters.</summary>
    public void Leave(float left, float right, float bottom, float top) => room = new PixelPadding(left * Letter, right * Letter, bottom * Letter, top * Letter);

    /// <summary>The ranges of both axes.</summary>
    public void Range(double left, double right, double bottom, double top)
    {
        (across, up) = ((left, right), (bottom, top));
        plot.Axes.SetLimits(left, right, bottom, top);
    }

    public double DotsAcross(float dots) => dots * (across.High - across.Low) / Across;

    public double DotsUp(float dots) => dots * (up.High - up.Low) / Upwards;

    /// <summary>Figures along the left axis, with a faint line each.</summary>
    /// <param name="lines">From where to where the lines go, so that they run through no words; all the way where left out.</param>
    /// <param name="highest">Above it there is neither figure nor line.</param>
    public void FiguresUp(Func<decimal, string> words, string unit, (double From, double To)? lines = null, double highest = double.PositiveInfinity)
    {
        var ticks = RoundSteps(up.Low, up.High, Math.Max(2, (int)(Upwards / (Letter * 3.2f)))).Where(tick => (double)tick <= highest).ToArray();
        foreach (var tick in ticks)
        {
            Line(lines?.From ?? across.Low, (double)tick, lines?.To ?? across.High, (double)tick, Faint, 0.8f);
        }

        Set(plot.Axes.Left, ticks.Select(tick => ((double)tick, words(tick))));
        Text(across.Low, up.High, unit, Beside.Right, Grey, lift: -0.55f);
    }

    /// <summary>Figures along the lower axis.</summary>
    public void FiguresAcross(Func<decimal, string> words, string unit, bool whole = false)
    {
        var ticks = RoundSteps(across.Low, across.High, Math.Max(2, (int)(Across / (Letter * 5))), whole);
        Set(plot.Axes.Bottom, ticks.Select(tick => ((double)tick, words(tick))));
        plot.Axes.Bottom.Label.Text = unit;
        plot.Axes.Bottom.Label.FontName = PlotFonts.Family;
        plot.Axes.Bottom.Label.FontSize = Letter;
        plot.Axes.Bottom.Label.Bold = false;
        plot.Axes.Bottom.Label.ForeColor = Color.FromHex(Grey);
    }

    /// <summary>A figure beside the right end of the axes, at the height of a line.</summary>
    public void RightOf(double at, string said)
    {
        rightTicks.Add(new Tick(at, said));
        plot.Axes.Right.TickGenerator = new NumericManual([.. rightTicks]);
        Letters(plot.Axes.Right);
        plot.Axes.Right.MajorTickStyle.Length = 2;
        plot.Axes.Right.Min = up.Low;
        plot.Axes.Right.Max = up.High;
    }

    /// <summary>No axis to the left either.</summary>
    public void NothingUp()
    {
        plot.Axes.Left.TickGenerator = new NumericManual();
        plot.Axes.Left.FrameLineStyle.Width = 0;
    }

    public void NothingAcross()
    {
        plot.Axes.Bottom.TickGenerator = new NumericManual();
        plot.Axes.Bottom.FrameLineStyle.Width = 0;
    }

    public void Line(double fromAcross, double fromUp, double toAcross, double toUp, string colour = Ink, float thick = 1.2f, Stroke stroke = Stroke.Whole)
    {
        var line = plot.Add.Line(fromAcross, fromUp, toAcross, toUp);
        line.LineColor = Color.FromHex(colour);
        line.LineWidth = thick;
        line.LinePattern = stroke switch { Stroke.Dashed => LinePattern.Dashed, Stroke.Dotted => LinePattern.Dotted, _ => LinePattern.Solid };
        line.MarkerSize = 0;
    }

    /// <summary>A curve through many points.</summary>
    public void Curve(double[] atAcross, double[] atUp, string colour = Ink, float thick = 1.1f)
    {
        var curve = plot.Add.ScatterLine(atAcross, atUp, Color.FromHex(colour));
        curve.LineWidth = thick;
    }

    /// <summary>An interval as a bar that lies, with feet.</summary>
    public void Interval(double fromAcross, double toAcross, double atUp, string colour = Ink, float foot = 3)
    {
        var tall = DotsUp(foot);
        Line(fromAcross, atUp, toAcross, atUp, colour, 1.1f);
        Line(fromAcross, atUp - tall, fromAcross, atUp + tall, colour, 1.1f);
        Line(toAcross, atUp - tall, toAcross, atUp + tall, colour, 1.1f);
    }

    /// <summary>A tinted area; its corners in order.</summary>
    public void Area(params (double Across, double Up)[] corners)
    {
        var area = plot.Add.Polygon([.. corners.Select(corner => new Coordinates(corner.Across, corner.Up))]);
        area.FillColor = Color.FromHex(Tint);
        area.LineWidth = 0;
        area.MarkerSize = 0;
    }

    public void Point(double atAcross, double atUp, Mark mark, string colour = Ink, float size = 8)
    {
        // A bar is drawn as a line: it has the thickness it is given at every size.
        if (mark is Mark.Lying or Mark.Standing)
        {
            var (half, tall) = (DotsAcross(size / 2), DotsUp(size / 2));
            (double Dx, double Dy) = mark == Mark.Lying ? (half, 0d) : (0d, tall);
            Line(atAcross - Dx, atUp - Dy, atAcross + Dx, atUp + Dy, colour, 3);
            return;
        }

        var point = plot.Add.Marker(atAcross, atUp, mark == Mark.Full ? MarkerShape.FilledSquare : MarkerShape.OpenDiamond, size, Color.FromHex(colour));
        point.MarkerLineWidth = 1.8f;
        point.MarkerLineColor = Color.FromHex(colour);
    }

    /// <summary>An uncertainty as a bar with feet.</summary>
    public void Uncertainty(double atAcross, double atUp, double plusMinus, string colour = Ink, float foot = 3)
    {
        var wide = DotsAcross(foot);
        Line(atAcross, atUp - plusMinus, atAcross, atUp + plusMinus, colour, 1.1f);
        Line(atAcross - wide, atUp - plusMinus, atAcross + wide, atUp - plusMinus, colour, 1.1f);
        Line(atAcross - wide, atUp + plusMinus, atAcross + wide, atUp + plusMinus, colour, 1.1f);
    }

    /// <param name="lift">Letters upwards from where it would stand.</param>
    public void Text(double atAcross, double atUp, string said, Beside beside, string colour = Ink, bool bold = false, float lift = 0)
    {
        var text = plot.Add.Text(said, atAcross, atUp);
        text.LabelFontName = PlotFonts.Family;
        text.LabelFontSize = Letter;
        text.LabelBold = bold;
        text.LabelStyle.Font = Print.Typeface(bold);
        text.LabelFontColor = Color.FromHex(colour);
        text.LabelPadding = 0;
        text.LabelAlignment = beside switch
        {
            Beside.Left => Alignment.MiddleRight,
            Beside.Right => Alignment.MiddleLeft,
            Beside.Above => Alignment.LowerCenter,
            Beside.Below => Alignment.UpperCenter,
            _ => Alignment.MiddleCenter,
        };
        text.LabelOffsetX = beside switch { Beside.Left => -4, Beside.Right => 4, _ => 0 };
        text.LabelOffsetY = (beside switch { Beside.Above => -4, Beside.Below => 4, _ => 0 }) - (lift * Letter);
    }

    internal void Render(SKCanvas canvas, float left, float top)
    {
        using (plot)
        {
            plot.Layout.Fixed(room);
            var place = new PixelRect(left, left + width, top + height, top);

            // The first time ScottPlot draws everything twice, since its layout is new to it; that one goes nowhere.
            using (var nowhere = new SKNoDrawCanvas(1, 1))
            {
                plot.Render(nowhere, place);
            }

            plot.Render(canvas, place);
        }
    }

    private void Set(IAxis axis, IEnumerable<(double At, string Words)> ticks)
    {
        axis.TickGenerator = new NumericManual([.. ticks.Select(tick => new Tick(tick.At, tick.Words))]);
        Letters(axis);
        axis.MajorTickStyle.Length = TickLength;
    }

    private void Letters(IAxis axis)
    {
        axis.TickLabelStyle.FontName = PlotFonts.Family;
        axis.TickLabelStyle.FontSize = Letter;
        axis.TickLabelStyle.ForeColor = Color.FromHex(Ink);
        axis.MajorTickStyle.Color = Color.FromHex(Ink);
    }

    // Steps of 1, 2 or 5 of a power of ten, as people read them.
    private static IEnumerable<decimal> RoundSteps(double low, double high, int atMost, bool whole = false)
    {
        var least = Math.Max((high - low) / atMost, 1e-6);
        var power = Math.Pow(10, Math.Floor(Math.Log10(least)));
        var step = (decimal)(new[] { 1, 2, 5, 10 }.First(factor => (factor * power) >= least * 0.999999) * power);
        step = whole ? Math.Max(1, Math.Ceiling(step)) : step;
        for (var tick = Math.Ceiling((decimal)low / step) * step; tick <= (decimal)high; tick += step)
        {
            yield return decimal.Parse(tick.ToString("0.######", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        }
    }
}
