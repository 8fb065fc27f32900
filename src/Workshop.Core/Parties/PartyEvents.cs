using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Parties;

/// <summary>A way by which somebody of the people round a watch can be reached.</summary>
public enum PartyWay
{
    Email,
    Telephone,
    Letter,
}

/// <summary>
/// Who the people round a watch are, by the ids of customers: the whole of it, never a difference. Whoever is left out is the customer of
/// the intake.
/// </summary>
public sealed record PartiesChanged : WorkshopEvent
{
    /// <summary>Whose watch it is.</summary>
    public string? Owner { get; init; }

    /// <summary>Who brought it, and may collect it.</summary>
    public string? BroughtBy { get; init; }

    public string? Payer { get; init; }

    /// <summary>Who gets it back.</summary>
    public string? Recipient { get; init; }

    /// <summary>Whose yes or no to a quote counts.</summary>
    public string? Decides { get; init; }

    /// <summary>Who is written to.</summary>
    public ImmutableArray<string>? Told { get; init; }

    /// <summary>A gift: before this day nobody is told anything but whoever pays for it.</summary>
    public LocalDate? NotBefore { get; init; }
}

/// <summary>What became known of somebody round a watch, by the id of the customer: the whole of it, never a difference.</summary>
public sealed record PartyStandingTold : WorkshopEvent
{
    public required string Customer { get; init; }

    /// <summary>Has died: is not written to any more, and decides nothing.</summary>
    public bool Deceased { get; init; }

    /// <summary>Ways by which something came back; nothing goes out by them.</summary>
    public ImmutableArray<PartyWay> Unreachable { get; init; } = [];
}
