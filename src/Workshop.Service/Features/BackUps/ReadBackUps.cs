using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.House;
using Workshop.Core.Shop;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BackUps;

/// <summary>Whether what is kept is kept twice.</summary>
public static class ReadBackUps
{
    public static async Task<Ok<BackUpsView>> Handle(Caller caller, Reader reader, ShopRulesSource rules, Storage.BackUps backUps, CancellationToken cancel)
    {
        var house = House.Replay(await reader.Read(connection => Reader.Entries(connection, caller.Site, House.Stream), cancel));
        return TypedResults.Ok(Of(house, await rules.Read(caller.Site, cancel), backUps));
    }

    internal static BackUpsView Of(House house, ShopRules rules, Storage.BackUps backUps) => new(
        house.LastBackUp is { } last ? new BackUpView(last.MadeAt, last.Where, last.Bytes) : null, backUps.AreOurs, rules.Agenda.BackUpOlderThan);
}
