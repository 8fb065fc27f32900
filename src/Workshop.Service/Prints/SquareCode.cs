using QRCoder;

namespace Workshop.Service.Prints;

/// <summary>The square code of a label (ISO/IEC 18004): it holds the eight characters and nothing else.</summary>
public static class SquareCode
{
    /// <summary>Draws it with its quiet zone into a square.</summary>
    public static void Draw(Drawing drawing, string text, float left, float top, float side)
    {
        using var code = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.Q);
        var modules = code.ModuleMatrix;
        var module = side / modules.Count;
        drawing.Squares(
            from row in Enumerable.Range(0, modules.Count)
            from column in Enumerable.Range(0, modules.Count)
            where modules[row][column]
            select (left + (column * module), top + (row * module)),
            module);
    }
}
