using System.Collections.Immutable;
using System.Globalization;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Labels;
using Workshop.Core.Warranties;

namespace Workshop.Service.Features.Warranties;

/// <summary>One line of the warranty as it stands on a day.</summary>
/// <param name="Covered">Whether a fault reported on that day falls under it; the last day included.</param>
/// <param name="LastDay">With the days that covered claims added.</param>
/// <param name="NominalLastDay">Before any extension.</param>
/// <param name="ExtensionDays">Days in the house for covered claims.</param>
/// <param name="Why">How the last day comes about.</param>
/// <param name="Words">The answer in one sentence.</param>
public sealed record WarrantyLineView(string Line, bool Covered, LocalDate LastDay, LocalDate HandedOverOn, LocalDate NominalLastDay, int ExtensionDays, string Why, string Words)
{
    private static readonly LocalDatePattern InWords = LocalDatePattern.Create("d MMMM uuuu", CultureInfo.InvariantCulture);

    public static WarrantyLineView Of(WarrantyLine line, LocalDate on)
    {
        var covered = WarrantyArithmetic.Covered(line, on);
        var words = covered ? $"Under warranty on {InWords.Format(on)}; the last day is {InWords.Format(line.LastDay)}."
            : on < line.HandedOverOn ? $"Not under warranty on {InWords.Format(on)}: it was handed over on {InWords.Format(line.HandedOverOn)}."
            : $"Not under warranty on {InWords.Format(on)}: the last day was {InWords.Format(line.LastDay)}.";
        return new WarrantyLineView(line.Line, covered, line.LastDay, line.HandedOverOn, line.NominalLastDay, line.ExtensionDays, line.Why, words);
    }

    public static ImmutableArray<WarrantyLineView> Of(WarrantyBook book, LocalDate on) => [.. book.Lines.Select(line => Of(line, on))];
}

/// <summary>The warranty of a job on a day.</summary>
/// <param name="HandedOverOn">Absent while nothing has begun.</param>
/// <param name="Lines">None before hand-over, and for work that comes without a warranty.</param>
/// <param name="StatutoryRights">Said wherever warranty days are shown.</param>
public sealed record WarrantyView(Label Job, LocalDate On, LocalDate? HandedOverOn, ImmutableArray<WarrantyLineView> Lines, string StatutoryRights);
