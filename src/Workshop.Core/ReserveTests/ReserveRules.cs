using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.ReserveTests;

/// <summary>From where the hours come that a watch is to run.</summary>
public enum ReserveBasis
{
    /// <summary>Told with the start of the test.</summary>
    Told,

    /// <summary>Of this very watch, as written down at intake.</summary>
    Watch,

    /// <summary>The calibre's.</summary>
    Calibre,

    /// <summary>Usual for older movements; nobody has written down this one's.</summary>
    Older,

    /// <summary>Usual; nobody has written down this one's.</summary>
    Usual,
}

/// <summary>What a reserve is judged by. Figures are common practice of the trade, and the shop's own to change.</summary>
public sealed record ReserveRules
{
    public static ReserveRules Usual { get; } = new();

    /// <summary>Hours that older movements run at least, where nothing else is known.</summary>
    [Range(1, 2_000)]
    public decimal OlderHours { get; init; } = 38;

    /// <summary>Hours that others run at least, where nothing else is known.</summary>
    [Range(1, 2_000)]
    public decimal UsualHours { get; init; } = 42;

    /// <summary>A watch made earlier counts as older. From memory.</summary>
    [Range(1_500, 3_000)]
    public int OlderBefore { get; init; } = 1970;

    /// <summary>This share of the hours is let pass by exception, for an old spring or a vintage watch.</summary>
    [Range(0.1, 1)]
    public decimal ShareByException { get; init; } = 0.9m;

    /// <summary>So long before the hours are over somebody looks: what runs then and stops later tells its hours by its hands.</summary>
    public Duration LookBefore { get; init; } = Duration.FromMinutes(30);

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (LookBefore < Duration.Zero || LookBefore > Duration.FromHours(12))
        {
            yield return new Fault($"{pointer}/lookBefore", "This is nothing to half a day: hands go round in twelve hours");
        }
    }
}

/// <summary>What one test is judged by, frozen at its start.</summary>
public sealed record ReserveTerms
{
    public required decimal Hours { get; init; }

    public required ReserveBasis Basis { get; init; }

    public required Duration LookBefore { get; init; }

    public required decimal ShareByException { get; init; }

    /// <summary>The hours of a watch, from the nearest that is known.</summary>
    /// <param name="told">With the start of the test.</param>
    /// <param name="ofWatch">As written down at intake.</param>
    /// <param name="ofCalibre">As stated by the maker.</param>
    /// <param name="isVintage">The kind of work is for vintage watches.</param>
    public static ReserveTerms Of(decimal? told, decimal? ofWatch, decimal? ofCalibre, bool isVintage, int? madeInYear, ReserveRules rules)
    {
        var (hours, basis) =
            told is { } said ? (said, ReserveBasis.Told)
            : ofWatch is { } written ? (written, ReserveBasis.Watch)
            : ofCalibre is { } stated ? (stated, ReserveBasis.Calibre)
            : isVintage || madeInYear < rules.OlderBefore ? (rules.OlderHours, ReserveBasis.Older)
            : (rules.UsualHours, ReserveBasis.Usual);
        return new ReserveTerms { Hours = hours, Basis = basis, LookBefore = rules.LookBefore, ShareByException = rules.ShareByException };
    }
}
