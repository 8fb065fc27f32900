using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Core.Labels;

/// <summary>How large labels are printed. All lengths in millimetres. JSON member of the rules document: <c>labels</c>.</summary>
public sealed record LabelRules
{
    /// <summary>Modules on a side of the square code of eight characters, the quiet zone of four on either side included (ISO/IEC 18004, version 1).</summary>
    public const int ModulesOnASide = 29;

    /// <summary>The smallest module that a hand scanner reads without fail; from memory.</summary>
    public const decimal SmallestModuleMillimetres = 0.25m;

    /// <summary>What the eight characters beside the code need to be read at arm's length; from memory.</summary>
    public const decimal TextWidthAtLeastMillimetres = 14m;

    public static readonly LabelRules Usual = new();

    /// <summary>Common practice for a tag on a strap or a tray.</summary>
    [Range(15.0, 150.0)]
    public decimal WidthMillimetres { get; init; } = 38.0m;

    [Range(8.0, 100.0)]
    public decimal HeightMillimetres { get; init; } = 13.0m;

    /// <summary>White around what is printed, for a printer that is not exact. Common practice.</summary>
    [Range(0.0, 10.0)]
    public decimal MarginMillimetres { get; init; } = 0.5m;

    /// <summary>Of a picture; 12 is about 300 dots an inch, as label printers have.</summary>
    [Range(4, 48)]
    public int DotsPerMillimetre { get; init; } = 12;

    public LabelSheet Sheet { get; init; } = new();

    /// <summary>The side of the square code, its quiet zone included.</summary>
    public decimal CodeMillimetres() => HeightMillimetres - (2 * MarginMillimetres);

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (CodeMillimetres() < ModulesOnASide * SmallestModuleMillimetres)
        {
            yield return new Fault($"{pointer}/heightMillimetres", $"The square code needs {ModulesOnASide * SmallestModuleMillimetres} mm between the margins to be read");
        }

        if (WidthMillimetres < HeightMillimetres + TextWidthAtLeastMillimetres)
        {
            yield return new Fault($"{pointer}/widthMillimetres", $"Beside the code the letters need {TextWidthAtLeastMillimetres} mm: the label is at least that much wider than high");
        }

        if (Sheet.WidthNeeded(this) > Sheet.PaperWidthMillimetres)
        {
            yield return new Fault($"{pointer}/sheet/columns", $"So many labels are {Sheet.WidthNeeded(this)} mm wide, the paper {Sheet.PaperWidthMillimetres} mm");
        }

        if (Sheet.HeightNeeded(this) > Sheet.PaperHeightMillimetres)
        {
            yield return new Fault($"{pointer}/sheet/rows", $"So many labels are {Sheet.HeightNeeded(this)} mm high, the paper {Sheet.PaperHeightMillimetres} mm");
        }
    }
}

/// <summary>A sheet of labels as it is bought. All lengths in millimetres; the paper is A4 (ISO 216) unless the shop says otherwise.</summary>
public sealed record LabelSheet
{
    [Range(50.0, 500.0)]
    public decimal PaperWidthMillimetres { get; init; } = 210.0m;

    [Range(50.0, 500.0)]
    public decimal PaperHeightMillimetres { get; init; } = 297.0m;

    [Range(1, 20)]
    public int Columns { get; init; } = 4;

    [Range(1, 40)]
    public int Rows { get; init; } = 17;

    /// <summary>From the edge of the paper to the first label.</summary>
    [Range(0.0, 100.0)]
    public decimal LeftMillimetres { get; init; } = 18.0m;

    [Range(0.0, 100.0)]
    public decimal TopMillimetres { get; init; } = 14.0m;

    /// <summary>Between two labels of a row.</summary>
    [Range(0.0, 50.0)]
    public decimal BetweenColumnsMillimetres { get; init; } = 7.0m;

    /// <summary>Between two rows.</summary>
    [Range(0.0, 50.0)]
    public decimal BetweenRowsMillimetres { get; init; } = 3.0m;

    public int Places() => Columns * Rows;

    /// <summary>Where the label of a place begins, from the upper left corner of the paper; places are counted from 0, row by row.</summary>
    public (decimal Left, decimal Top) At(int place, LabelRules label) => (
        LeftMillimetres + (place % Columns * (label.WidthMillimetres + BetweenColumnsMillimetres)),
        TopMillimetres + (place / Columns * (label.HeightMillimetres + BetweenRowsMillimetres)));

    internal decimal WidthNeeded(LabelRules label) => LeftMillimetres + (Columns * label.WidthMillimetres) + ((Columns - 1) * BetweenColumnsMillimetres);

    internal decimal HeightNeeded(LabelRules label) => TopMillimetres + (Rows * label.HeightMillimetres) + ((Rows - 1) * BetweenRowsMillimetres);
}
