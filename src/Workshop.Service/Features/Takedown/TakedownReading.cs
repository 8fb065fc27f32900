using System.Collections.Immutable;
using Workshop.Core.Groups;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Core.Takedown;
using Workshop.Service.Features.Photos;
using Workshop.Service.Features.Watches;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Takedown;

/// <summary>What is read to show how a movement came apart.</summary>
/// <param name="Photos">What has come, by name; what is not among them is awaited.</param>
public sealed record TakedownReading(Job Job, CalibreOfJob Calibre, ImmutableDictionary<string, StoredPhoto> Photos)
{
    /// <summary>Null where there is no such job.</summary>
    public static Task<TakedownReading?> Read(Reader reader, string site, Label label, ShopRules rules, CancellationToken cancel) => reader.Read(
        connection =>
        {
            var entries = Reader.Entries(connection, site, label);
            if (entries.IsEmpty)
            {
                return null;
            }

            var job = Job.Replay(label, entries);
            return new TakedownReading(job, CalibreOfJob.Find(connection, site, job, rules), PhotoStore.OfJob(connection, site, label));
        },
        cancel);

    public TakedownPlan? Plan => Calibre.Document?.Plan;

    /// <summary>Parts in each group as they were declared, where somebody counted.</summary>
    public static IReadOnlyDictionary<string, int> CountsOf(Job job) => job.Groups.Groups
        .Select(group => (group.Id, Counted: group.Counts.LastOrDefault(count => count.Point == CountPoint.Declared)?.Count))
        .Where(one => one.Counted is not null)
        .ToDictionary(one => one.Id, one => one.Counted!.Value, StringComparer.Ordinal);

    public ImmutableArray<PhotoRef> Shown(ImmutableArray<string> photos) => [.. photos.Select(one => new PhotoRef(
        one, !Photos.ContainsKey(one), $"/v1/jobs/{Job.Label}/photos/{one}", $"/v1/jobs/{Job.Label}/photos/{one}/thumb"))];
}

/// <summary>A photo that something names.</summary>
/// <param name="Awaited">It has not come yet.</param>
/// <param name="Href">Where it is, or will be.</param>
public sealed record PhotoRef(string Sha256, bool Awaited, string Href, string Thumb);
