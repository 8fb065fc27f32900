using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Parties;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Customers;

/// <summary>Says anew who a customer is: the whole of it, what is left out is gone. The journal is not touched by it.</summary>
public static class EditCustomer
{
    public static async Task<Results<Seen<CustomerView>, ProblemHttpResult>> Handle(
        string id, JsonBody<CustomerDetails> body, SeenState seen, Caller caller, Writer writer, CancellationToken cancel) =>
        await writer.Turn(caller.Site, turn => Edit(turn, id, body.Value, seen), cancel);

    private static Results<Seen<CustomerView>, ProblemHttpResult> Edit(Turn turn, string id, CustomerDetails details, SeenState seen)
    {
        if (CustomerStore.Find(turn, id) is not { } before)
        {
            return ReadCustomer.NoCustomer();
        }

        if (seen.RefusalUnlessStill(before.Version) is { } changed)
        {
            return changed;
        }

        if (details.Faults("", turn.Rules.Calendar.DateOf(turn.Now)).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        CustomerStore.Change(turn, id, details with { Unreachable = details.Unreachable ?? StillUnreachable(before, details) });
        var after = CustomerStore.Find(turn, id)!;
        PartyStandings.TellJobs(turn, before, after);
        return Answer.Seen(after.Version, CustomerView.Of(after));
    }

    // A new number or address is worth another try.
    private static ImmutableArray<PartyWay> StillUnreachable(StoredCustomer before, CustomerDetails after) =>
    [
        .. before.ReadUnreachable().Where(way => way switch
        {
            PartyWay.Email => before.Email == after.Email?.Trim(),
            PartyWay.Telephone => before.Telephone == after.Telephone?.Trim(),
            _ => before.Address == after.Address?.Trim() && before.ReadAddresses().SequenceEqual(after.Addresses.OrderBy(one => one.ValidFrom)),
        }),
    ];
}
