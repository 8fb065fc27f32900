using System.Collections.Immutable;
using NodaTime;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Feeds;

/// <summary>Something that falls due, as a calendar shows it.</summary>
/// <param name="Uid">The same for ever, wherever it moves.</param>
public readonly record struct FeedItem(string Uid, Instant Starts, string Line);

/// <summary>What changes between what a feed has shown and what falls due now.</summary>
/// <param name="Kept">All that is shown from now on.</param>
/// <param name="Changed">Of these, what is to be written.</param>
/// <param name="Dropped">What is shown no longer.</param>
public sealed record FeedChange(ImmutableArray<StoredFeedEvent> Kept, ImmutableArray<StoredFeedEvent> Changed, ImmutableArray<string> Dropped)
{
    /// <summary>What is past, or called off, goes on being shown for so long: a calendar that was away for a month still hears of it.</summary>
    public static readonly Duration ShownAfterwards = Duration.FromDays(35);

    public bool IsNothing => Changed.IsEmpty && Dropped.IsEmpty;

    /// <summary>
    /// What has moved or reads otherwise keeps its name and counts up; what is gone before its time is called off; what is gone after it was done,
    /// and stays as it was; what was called off and is due again stands again.
    /// </summary>
    public static FeedChange Of(IEnumerable<StoredFeedEvent> shown, IEnumerable<FeedItem> due, Instant now)
    {
        var (before, stamp) = (shown.ToDictionary(one => one.Uid, StringComparer.Ordinal), Microseconds.Of(now));
        var (kept, changed, dropped) = (ImmutableArray.CreateBuilder<StoredFeedEvent>(), ImmutableArray.CreateBuilder<StoredFeedEvent>(), ImmutableArray.CreateBuilder<string>());
        foreach (var item in due)
        {
            var starts = Microseconds.Of(item.Starts);
            if (before.Remove(item.Uid, out var known) && known is { Cancelled: null } && known.Starts == starts && known.Line == item.Line)
            {
                kept.Add(known);
                continue;
            }

            var one = new StoredFeedEvent { Uid = item.Uid, Starts = starts, Line = item.Line, Sequence = known is null ? 0 : known.Sequence + 1, Stamped = stamp };
            kept.Add(one);
            changed.Add(one);
        }

        var longAgo = Microseconds.Of(now - ShownAfterwards);
        foreach (var gone in before.Values)
        {
            if ((gone.Cancelled ?? gone.Starts) < longAgo)
            {
                dropped.Add(gone.Uid);
            }
            else if (gone.Cancelled is null && gone.Starts > stamp)
            {
                var calledOff = gone with { Cancelled = stamp, Stamped = stamp, Sequence = gone.Sequence + 1 };
                kept.Add(calledOff);
                changed.Add(calledOff);
            }
            else
            {
                kept.Add(gone);
            }
        }

        return new FeedChange(kept.ToImmutable(), changed.ToImmutable(), dropped.ToImmutable());
    }
}
