using QRCoder;
using SkiaSharp;

namespace Workshop.Service.Prints;

/// <summary>The square code of a label (ISO/IEC 18004): it holds the eight characters and nothing else.</summary>
public static class SquareCode
{
    /// <summary>Draws it with its quiet zone into a square.</summary>
    public static void Draw(SKCanvas canvas, string text, float left, float top, float side)
    {
        using var code = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.Q);
        var modules = code.ModuleMatrix;
        var module = side / modules.Count;
        using var outline = new SKPath();
        for (var row = 0; row < modules.Count; row++)
        {
            for (var column = 0; column < modules.Count; column++)
            {
                if (modules[row][column])
                {
                    outline.AddRect(SKRect.Create(left + (column * module), top + (row * module), module, module));
                }
            }
        }

        // One path, and no smoothing: between two modules drawn by themselves a hair of white would show.
        using var black = new SKPaint { Color = SKColors.Black, IsAntialias = false };
        canvas.DrawPath(outline, black);
    }
}
