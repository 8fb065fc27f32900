using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Parts;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Stock;

namespace Workshop.Service.Features.Parts;

/// <summary>A watch with pieces of a part set aside for it.</summary>
public sealed record ReservedView(Label Job, int Count);

/// <summary>A part, and how many there are of it in this moment.</summary>
/// <param name="Version">1, 2, 3 …; with If-Match it says which state was seen.</param>
/// <param name="Document">As it was saved.</param>
/// <param name="OnShelf">In the house by the last count and what came and went since; less than nothing where more was fitted than was counted.</param>
/// <param name="Reserved">Of these, set aside for watches.</param>
/// <param name="Free">Set aside for nobody.</param>
public sealed record PartView(
    string Id, long Version, Instant SavedAt, PartDocument Document, int OnShelf, int Reserved, int Free, ImmutableArray<ReservedView> ReservedFor)
{
    public static PartView Of(StockDocument stored, PartStock stock) => new(
        stored.Id, stored.Version, Microseconds.Read(stored.Saved), stored.Read<PartDocument>(), stock.OnShelf, stock.OnShelf - stock.Free, stock.Free,
        [.. stock.ReservedFor.Select(one => new ReservedView(one.Job, one.Count))]);
}

/// <summary>A day on which something was to come, and since when that was said.</summary>
public sealed record SaidDay(LocalDate? On, Instant Since);

/// <summary>What became of a line of an order.</summary>
/// <param name="Come">For a watch: pieces of this part that came by this order and fit.</param>
/// <param name="Wrong">For a watch: pieces that came and did not fit.</param>
/// <param name="Days">Every day that was said, the first one first: more than one is a date that slipped.</param>
public sealed record PartOrderLineView(string Part, int Count, string? Job, LocalDate? ExpectedOn, int? Come, int? Wrong, ImmutableArray<SaidDay> Days);

/// <summary>An order of parts, and what has come of it.</summary>
public sealed record PartOrderView(string Id, long Version, Instant SavedAt, PartOrderDocument Document, ImmutableArray<PartOrderLineView> Lines)
{
    /// <param name="versions">All of them, the first one first.</param>
    /// <param name="jobs">The watches that lines are for.</param>
    internal static PartOrderView Of(IReadOnlyList<StockDocument> versions, IReadOnlyDictionary<string, Job> jobs)
    {
        var newest = versions[^1];
        var document = newest.Read<PartOrderDocument>();
        var said = versions.Select(one => (At: Microseconds.Read(one.Saved), Order: one.Read<PartOrderDocument>())).ToArray();
        return new PartOrderView(
            newest.Id, newest.Version, Microseconds.Read(newest.Saved), document, [.. document.Lines.Select(line => LineOf(newest.Id, line, said, jobs))]);
    }

    private static PartOrderLineView LineOf(string order, PartOrderLine line, (Instant At, PartOrderDocument Order)[] said, IReadOnlyDictionary<string, Job> jobs)
    {
        var days = ImmutableArray.CreateBuilder<SaidDay>();
        foreach (var (at, version) in said)
        {
            if (version.Lines.FirstOrDefault(one => one.Part == line.Part && one.Job == line.Job) is { } then && (days.Count == 0 || days[^1].On != then.ExpectedOn))
            {
                days.Add(new SaidDay(then.ExpectedOn, at));
            }
        }

        var known = line.Job is { } job && jobs.TryGetValue(job, out var found) ? found.Parts.Ordered.FirstOrDefault(one => one.Order == order && one.Part == line.Part) : null;
        return new PartOrderLineView(line.Part, line.Count, line.Job, line.ExpectedOn, known?.Come, known?.Wrong, days.ToImmutable());
    }
}
