using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;

namespace Workshop.Core.WearReports;

/// <summary>In what a customer says how far a watch has gone out; its size is how finely it was said.</summary>
public enum WearUnit
{
    Seconds,
    Minutes,
}

public enum WearDirection
{
    Gains,
    Loses,
}

/// <summary>Who told it, and how it came.</summary>
public enum ReportChannel
{
    Counter,
    Telephone,
    Letter,
    Email,
    Page,
    Storefront,
}

/// <summary>A customer tells how their watch runs after hand-over: the check that only they can make.</summary>
public sealed record WearReported : WorkshopEvent
{
    /// <summary>1, 2, 3 … within the job.</summary>
    public required int Report { get; init; }

    /// <summary>The day it was told, in the workshop's own calendar.</summary>
    public required LocalDate ReportedOn { get; init; }

    /// <summary>How far it went out, without a sign, in <see cref="Unit"/>.</summary>
    public decimal? Amount { get; init; }

    public WearUnit? Unit { get; init; }

    /// <summary>Left out where the customer did not say: it is asked back, never guessed.</summary>
    public WearDirection? Direction { get; init; }

    /// <summary>Days over which it went out by that.</summary>
    public decimal? OverDays { get; init; }

    public bool? Stopped { get; init; }

    /// <summary>Whether the date changes at midnight.</summary>
    public bool? DateRight { get; init; }

    /// <summary>Whether it is worn by night.</summary>
    public bool? WornByNight { get; init; }

    /// <summary>How it lies by night, where it is taken off.</summary>
    public Position? NightPosition { get; init; }

    public bool? Sport { get; init; }

    /// <summary>Telephone covers, clasps of bags, loudspeakers.</summary>
    public bool? NearMagnets { get; init; }

    public ReportChannel? Channel { get; init; }

    /// <summary>The customer's words; kept here, never sent out.</summary>
    [Erasable]
    public string? Text { get; init; }
}

/// <summary>What the shop answered to a report.</summary>
public enum ReportAnswer
{
    /// <summary>To bring it in; no claim by itself.</summary>
    Invited,

    /// <summary>That it is as it should be.</summary>
    Reassured,

    /// <summary>A claim was written down.</summary>
    Claim,
}

public sealed record WearReportAnswered : WorkshopEvent
{
    public required int Report { get; init; }

    public required ReportAnswer Answer { get; init; }

    [Erasable]
    public string? Note { get; init; }
}
