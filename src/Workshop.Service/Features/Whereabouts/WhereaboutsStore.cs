using System.Data.Common;
using Dapper;
using Workshop.Core.House;
using Workshop.Core.Insurance;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Whereabouts;

/// <summary>A watch that is in the house, or with a firm for it.</summary>
internal sealed record WatchInHouse(Job Job, IntakeSheet Sheet)
{
    public ValuedWatch Valued => new(Job.Label, Job.Pieces.Pieces, Sheet.Members.DeclaredValueMinor, Sheet.Members.Currency);
}

/// <summary>Reads every watch that the house answers for; there are some hundreds of them, however many it has known.</summary>
internal static class WhereaboutsStore
{
    private const string InHouseSql = """
        select label, intake
        from job
        where site = @site
          and in_house = 1
        order by label
        """;

    public static IReadOnlyList<WatchInHouse> InHouse(DbConnection connection, string site) =>
    [
        .. connection.Query<(string Label, string Intake)>(InHouseSql, new { site }).AsList()
            .Select(row => (Label: Label.Read(row.Label), row.Intake))
            .Select(row => new WatchInHouse(Job.Replay(row.Label, Reader.Entries(connection, site, row.Label)), IntakeSheet.Read(row.Intake))),
    ];

    public static House HouseOf(DbConnection connection, string site) => House.Replay(Reader.Entries(connection, site, House.Stream));
}
