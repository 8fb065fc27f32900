using SkiaSharp;

namespace Workshop.Service.Prints;

/// <summary>What is drawn on: black on white, in millimetres from the upper left corner.</summary>
/// <param name="outlines">Letters as shapes, for a picture that is shown where the font is not; as text where it can be searched and read aloud.</param>
public sealed class Drawing(SKCanvas canvas, bool outlines)
{
    /// <summary>Text from its base line.</summary>
    /// <param name="millimetres">The size of the font.</param>
    public void Text(string text, float left, float baseLine, float millimetres, bool bold = false)
    {
        using var font = Print.Letters(millimetres, bold);
        using var black = new SKPaint { Color = SKColors.Black, IsAntialias = true };
        if (outlines)
        {
            using var shapes = font.GetTextPath(text, new SKPoint(left, baseLine));
            canvas.DrawPath(shapes, black);
        }
        else
        {
            canvas.DrawText(text, left, baseLine, font, black);
        }
    }

    public void Line(float left, float top, float right, float bottom, float thick = 0.15f)
    {
        using var black = new SKPaint { Color = SKColors.Black, StrokeWidth = thick, IsStroke = true };
        canvas.DrawLine(left, top, right, bottom, black);
    }

    /// <summary>Filled squares of one size, as one shape: between two drawn by themselves a hair of white would show.</summary>
    public void Squares(IEnumerable<(float Left, float Top)> corners, float side)
    {
        using var shape = new SKPath();
        foreach (var (left, top) in corners)
        {
            shape.AddRect(SKRect.Create(left, top, side, side));
        }

        using var black = new SKPaint { Color = SKColors.Black, IsAntialias = false };
        canvas.DrawPath(shape, black);
    }
}
