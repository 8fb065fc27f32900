using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Parties;

/// <summary>What is known of somebody round a watch besides who they are.</summary>
/// <param name="Customer">The customer's id.</param>
/// <param name="Unreachable">Ways by which something came back.</param>
/// <param name="Since">When it was told.</param>
public sealed record PartyStanding(string Customer, bool Deceased, ImmutableArray<PartyWay> Unreachable, Instant Since);

/// <summary>What entries say of the people round a watch; nothing in a job that has its customer alone.</summary>
public sealed record PartyRecord
{
    /// <summary>The newest word on who is who; null while nothing was said.</summary>
    public PartiesChanged? Said { get; init; }

    /// <summary>Those who have died or cannot be reached.</summary>
    public ImmutableArray<PartyStanding> Standings { get; init; } = [];

    /// <summary>Entries that changed it.</summary>
    public int Changes { get; init; }

    public PartyRecord Apply(Entry entry) => entry.Event switch
    {
        PartiesChanged said => this with { Said = said, Changes = Changes + 1 },
        PartyStandingTold told => this with
        {
            Standings =
            [
                .. Standings.Where(one => one.Customer != told.Customer),
                .. told.Deceased || !told.Unreachable.IsEmpty ? [new PartyStanding(told.Customer, told.Deceased, told.Unreachable, entry.Effective)] : Array.Empty<PartyStanding>(),
            ],
            Changes = Changes + 1,
        },
        _ => this,
    };
}

/// <summary>The people round a watch, by the ids of customers. Everyone is the customer of the intake until told otherwise.</summary>
/// <param name="customer">The customer of the intake.</param>
public sealed class PartyBook(string customer, PartyRecord record)
{
    /// <summary>The customer of the intake.</summary>
    public string Customer => customer;

    /// <summary>Whose watch it is.</summary>
    public string Owner => record.Said?.Owner ?? customer;

    /// <summary>Who brought it, and may collect it.</summary>
    public string BroughtBy => record.Said?.BroughtBy ?? customer;

    public string Payer => record.Said?.Payer ?? customer;

    /// <summary>Who gets it back.</summary>
    public string Recipient => record.Said?.Recipient ?? customer;

    /// <summary>Whose yes or no to a quote counts.</summary>
    public string Decides => record.Said?.Decides ?? customer;

    /// <summary>Who is written to.</summary>
    public ImmutableArray<string> Told => record.Said?.Told ?? [customer];

    /// <summary>A gift: before this day nobody is told anything but the giver.</summary>
    public LocalDate? NotBefore => record.Said?.NotBefore;

    /// <summary>Whoever pays for a gift gives it; null where it is none.</summary>
    public string? Giver => NotBefore is null ? null : Payer;

    /// <summary>Counts up with every change.</summary>
    public int Version => record.Changes + 1;

    /// <summary>Everybody, each once.</summary>
    public IEnumerable<string> All => ((string[])[Owner, BroughtBy, Payer, Recipient, Decides, .. Told]).Distinct(StringComparer.Ordinal);

    public bool IsDeceased(string who) => record.Standings.Any(one => one.Customer == who && one.Deceased);

    public bool IsUnreachable(string who, PartyWay way) => record.Standings.Any(one => one.Customer == who && one.Unreachable.Contains(way));

    /// <summary>Whether somebody may be told something on a day.</summary>
    public bool MayKnow(string who, LocalDate on) => NotBefore is not { } day || who == Giver || on >= day;

    /// <summary>Those round the watch who have died or cannot be reached.</summary>
    public IEnumerable<PartyStanding> Standings => record.Standings.Where(one => All.Contains(one.Customer));
}
