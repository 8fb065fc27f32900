using NodaTime;
using Workshop.Service.Http.CloudEvents;

namespace Workshop.Service.Trial;

/// <summary>
/// What holds of every request whatever the situation. It is looked at as the requests come, and what is wrong makes the situation
/// not handled in which it was seen.
/// </summary>
internal sealed class Manners
{
    // A clock may run on between being set and being read.
    private static readonly Duration ClockMayRunOn = Duration.FromSeconds(10);

    private readonly Dictionary<(string Source, string Id), CloudEvent> byId = [];
    private readonly Dictionary<(string Source, long Sequence), string> byNumber = [];

    /// <summary>What was wrong, in the order seen.</summary>
    public List<string> Wrong { get; } = [];

    public void Look(SentPost post, string key, string source)
    {
        Expect(post.Authorization == $"Bearer {key}", "a request did not carry the key of the present pairing as 'Authorization: Bearer …'");
        Expect(post.MediaType is CloudEventReader.One or CloudEventReader.Batch, $"a request had the media type '{post.MediaType}'");
        Expect(
            post.SaidSentAt is { } said && said - post.DeviceNow is var off && off > -ClockMayRunOn && off < ClockMayRunOn,
            $"a request said Sent-At '{post.SentAt}' while the device's clock showed {post.DeviceNow}");
        foreach (var fault in post.Faults)
        {
            Expect(false, $"a request could not be read: {fault}");
        }

        long last = 0;
        foreach (var one in post.Events)
        {
            Look(one, source);
            Expect(one.Sequence is null || one.Sequence > last, $"number {one.Sequence} stood behind number {last} in a batch");
            last = one.Sequence ?? last;
        }
    }

    private void Look(CloudEvent one, string source)
    {
        Expect(one.Source == source, $"an event was sent under '{one.Source}', while the key speaks for '{source}'");
        Expect(one.Sequence is > 0, $"the event {one.Id} had no number of 1 or more");
        Expect(one.Time is not null, $"the event {one.Id} had no time");
        if (!byId.TryAdd((one.Source, one.Id), one))
        {
            Expect(one.Digest.AsSpan().SequenceEqual(byId[(one.Source, one.Id)].Digest.AsSpan()), $"the event {one.Id} was sent again with another content");
        }

        if (one.Sequence is { } number && !byNumber.TryAdd((one.Source, number), one.Id))
        {
            Expect(byNumber[(one.Source, number)] == one.Id, $"number {number} was sent under two ids");
        }
    }

    private void Expect(bool holds, string otherwise)
    {
        if (!holds && !Wrong.Contains(otherwise))
        {
            Wrong.Add(otherwise);
        }
    }
}
