using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.Warranties;

/// <summary>A warranty line a kind of work comes with, or expressly comes without.</summary>
/// <param name="Term">A period of months or years, never hours; absent exactly where the line is expressly none.</param>
/// <param name="OnlyIf">The stage that must stand at hand-over: water resistance only where it was tested and passed.</param>
/// <param name="Rules">The shop's rule set by which its days are counted; the shop's default where left out.</param>
/// <param name="Text">What it is worth in words, for example "one re-adjustment".</param>
/// <param name="None">The line is named so that everybody knows it has no warranty: polish.</param>
public sealed record WarrantyOffer(string Line, Period? Term = null, Stage? OnlyIf = null, string? Rules = null, string? Text = null, bool None = false)
{
    private const int LineAtMost = 60;
    private const int TextAtMost = 400;

    /// <param name="pointer">Where the line stands in its document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (string.IsNullOrWhiteSpace(Line) || Line.Length > LineAtMost)
        {
            yield return new Fault($"{pointer}/line", $"A warranty line has a name of at most {LineAtMost} characters");
        }

        if (None != (Term is null))
        {
            yield return new Fault($"{pointer}/term", None ? "A line that is none has no term" : "A warranty line has a term such as P24M, or says none: true");
        }
        else if (Term is { } term && !WarrantyArithmetic.IsTerm(term))
        {
            yield return new Fault($"{pointer}/term", "A term is more than nothing, in years, months, weeks or days, at most a hundred years");
        }

        if (Text?.Length > TextAtMost)
        {
            yield return new Fault($"{pointer}/text", $"This is longer than {TextAtMost} characters");
        }
    }
}

/// <summary>How the day was found from which a warranty line runs.</summary>
public enum WarrantyStart
{
    /// <summary>The day of hand-over.</summary>
    HandOver,

    /// <summary>Nobody collected it: so long after it was ready.</summary>
    ReadyUncollected,

    /// <summary>Sent, and presumed delivered; a later day that is proven takes its place, an earlier one never.</summary>
    PresumedDelivered,
}

/// <summary>A warranty line as it began at hand-over, frozen with the rules it is counted by.</summary>
/// <param name="HandedOverOn">The day of hand-over in the workshop's own calendar.</param>
/// <param name="LastDay">The nominal last day, before any extension and any rolling, counted from <see cref="StartsOn"/>.</param>
public sealed record WarrantyTerm(string Line, Period Term, LocalDate HandedOverOn, LocalDate LastDay)
{
    public WarrantyStart Start { get; init; }

    /// <summary>The day it runs from, where that is not the day of hand-over.</summary>
    public LocalDate? From { get; init; }

    /// <summary>The day it was ready, where nobody collected it in time.</summary>
    public LocalDate? ReadyOn { get; init; }

    /// <summary>What it is worth in words, where the kind of work says so.</summary>
    public string? Text { get; init; }

    /// <summary>Null in entries from before there were rule sets.</summary>
    public WarrantyRuleSet? Rules { get; init; }

    /// <summary>The days that do not count as a last day, as the calendar stood at hand-over; null where nothing rolls.</summary>
    public DaysOff? DaysOff { get; init; }

    public LocalDate StartsOn => From ?? HandedOverOn;

    public WarrantyRuleSet CountedBy => Rules ?? WarrantyRuleSet.BeforeRuleSets;
}
