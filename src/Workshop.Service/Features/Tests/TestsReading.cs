using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Core.Stops;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Tests;

/// <summary>What is read to show how a watch was tested.</summary>
/// <param name="Known">What is written down of it.</param>
/// <param name="Counts">Causes found behind stops, of its calibre; of all where its calibre is not written down.</param>
public sealed record TestsReading(Job Job, WatchKnown Known, CauseCounts Counts)
{
    /// <summary>Null where there is no such job.</summary>
    public static async Task<TestsReading?> Read(JobStore store, Reader reader, string site, Label label, ShopRules rules, CancellationToken cancel) =>
        await store.Find(site, label, cancel) is not { } read ? null
        : await reader.Read(
            connection =>
            {
                var known = KnownOfWatch.Read(connection, site, read, rules);
                return new TestsReading(read.Job, known, StopCauses.Count(connection, site, known.Calibre));
            },
            cancel);
}
