using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Promises;

/// <summary>What the customer was told: the day by which the watch is ready.</summary>
public sealed record PromiseGiven : WorkshopEvent
{
    public required LocalDate On { get; init; }

    /// <summary>The shop's own target, before the promise.</summary>
    public required LocalDate Target { get; init; }

    /// <summary>Day 0 of the count.</summary>
    public required LocalDate ApprovedOn { get; init; }

    public required int WorkingDays { get; init; }

    /// <summary>Told before the job was adopted from the paper book: the date stands as said, and day 0 is the day the watch came.</summary>
    public bool? BeforeOurRecords { get; init; }
}

/// <summary>Why a promised date moved.</summary>
public enum PromiseReason
{
    WaitedForYou,
    Part,
    SupplementaryWork,
    TestRepeated,
    OutsideFirm,
    Closure,
    Absence,
    UrgentWork,
    Other,
}

/// <summary>Who moved a promised date.</summary>
public enum PromiseMover
{
    /// <summary>The service, since the clock had stood still or the customer approved anew.</summary>
    Rule,

    /// <summary>Somebody of the house.</summary>
    Person,
}

/// <summary>
/// The promised date moved, by rule or by a person, with the number of open days the clock stood still in all. A new approval and a
/// person's word begin the count anew.
/// </summary>
public sealed record PromiseMoved : WorkshopEvent
{
    public required LocalDate From { get; init; }

    public required LocalDate To { get; init; }

    public required LocalDate Target { get; init; }

    public required int StoppedWorkingDays { get; init; }

    public required PromiseReason Reason { get; init; }

    /// <summary>Day 0 of the count from here on, where a new approval began it.</summary>
    public LocalDate? ApprovedOn { get; init; }

    /// <summary>Open days counted from it.</summary>
    public int? WorkingDays { get; init; }

    /// <summary>By rule where left out.</summary>
    public PromiseMover? By { get; init; }

    /// <summary>The day after which stops of the clock count for this date, where a person said it.</summary>
    public LocalDate? CountsFrom { get; init; }

    [Erasable]
    public string? Note { get; init; }
}
