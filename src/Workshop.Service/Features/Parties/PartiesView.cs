using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Parties;
using Workshop.Service.Features.Customers;

namespace Workshop.Service.Features.Parties;

/// <summary>One of the people round a watch.</summary>
/// <param name="Customer">The customer's id.</param>
/// <param name="Deceased">Has died: is not written to, and decides nothing.</param>
/// <param name="Unreachable">Ways by which something came back.</param>
public sealed record PartyView(string Customer, string? Name, bool Deceased, ImmutableArray<PartyWay> Unreachable);

/// <summary>The people round a watch; everyone is the customer of the intake until told otherwise.</summary>
/// <param name="Decides">Whose yes or no to a quote counts.</param>
/// <param name="Told">Who is written to.</param>
/// <param name="NotBefore">A gift: before this day nobody is told anything but whoever pays for it.</param>
/// <param name="Version">Counts up with every change of this part of the job.</param>
public sealed record PartiesView(
    Label Job, PartyView Owner, PartyView BroughtBy, PartyView Payer, PartyView Recipient, PartyView Decides, ImmutableArray<PartyView> Told, LocalDate? NotBefore, long Version)
{
    /// <param name="find">A customer by id; null for one that was erased.</param>
    public static PartiesView Of(Job job, Func<string, StoredCustomer?> find)
    {
        var parties = job.Parties;
        var known = parties.All.ToDictionary(id => id, id => Of(id, find(id)), StringComparer.Ordinal);
        return new PartiesView(
            job.Label, known[parties.Owner], known[parties.BroughtBy], known[parties.Payer], known[parties.Recipient], known[parties.Decides],
            [.. parties.Told.Select(id => known[id])], parties.NotBefore, parties.Version);
    }

    private static PartyView Of(string id, StoredCustomer? stored) =>
        new(id, string.IsNullOrEmpty(stored?.Name) ? null : stored.Name, stored?.DeceasedOn is not null, stored?.ReadUnreachable() ?? []);
}
