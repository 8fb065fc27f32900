using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Oneself;

/// <param name="Source">The only source whose events this key may send.</param>
/// <param name="MayDo">Operations; what the person at the device may do can be less.</param>
/// <param name="MaySee">What answers may hold: the work, names and addresses, amounts.</param>
/// <param name="SignedOn">Whose word it is when an event names nobody; absent where nobody is signed on.</param>
public sealed record Oneself(
    string Site, Role Role, string Source, string? Bench, IReadOnlyList<Operation> MayDo, IReadOnlyList<Sight> MaySee, OneSignedOn? SignedOn);

/// <param name="Person">A short name.</param>
/// <param name="Name">As the shop's documents have it; the short name where they know nobody of it.</param>
/// <param name="Until">The end of the day: nobody is signed on over night.</param>
/// <param name="Proven">The person has told their number when signing on.</param>
public sealed record OneSignedOn(string Person, string Name, Instant Since, Instant Until, bool Proven);

/// <summary>Who a key is, what it may do, and who is signed on at its place.</summary>
public static class ReadOneself
{
    public static async Task<Ok<Oneself>> Handle(Caller caller, Reader reader, ShopRulesSource rules, IClock clock, CancellationToken cancel)
    {
        var signedOn = await reader.SignedOn(caller.Site, caller.Source, clock.GetCurrentInstant(), cancel) is { } one
            ? new OneSignedOn(one.Person, await NameOf(one.Person), one.Since, one.Until, one.Proof is not null)
            : null;
        return TypedResults.Ok(new Oneself(
            caller.Site, caller.Role, caller.Source, caller.Bench, [.. Operations.OpenTo(caller.Role)], [.. Enum.GetValues<Sight>().Where(caller.MaySee)], signedOn));

        async Task<string> NameOf(string person) => (await rules.Read(caller.Site, cancel)).PersonBehind(person)?.Name ?? person;
    }
}
