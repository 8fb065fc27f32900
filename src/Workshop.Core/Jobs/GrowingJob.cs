using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Reports;

namespace Workshop.Core.Jobs;

/// <summary>
/// A job while a decision adds entries to it. An entry behind all others is applied to the folded job; one that slips in between makes
/// the job fold anew.
/// </summary>
internal sealed class GrowingJob(JobHistory history, long nextPosition)
{
    private readonly ImmutableArray<StreamEntry>.Builder written = ImmutableArray.CreateBuilder<StreamEntry>();
    private readonly List<Entry> added = [];

    public Job Job { get; private set; } = history.Job;

    public ImmutableArray<StreamEntry> Written => written.ToImmutable();

    /// <summary>The position the next entry takes.</summary>
    public long NextPosition { get; private set; } = nextPosition;

    public bool IsInOrder(Place place) => Job.Last is not { } last || place.CompareTo(last) > 0;

    /// <summary>All entries in the order of their places, as the settlements say they count.</summary>
    public ImmutableArray<Entry> Entries => Settlements.InOrder(history.Entries.Concat(added));

    /// <summary>The job as it was at a place, before the entry that takes it.</summary>
    public Job JobBefore(Place place) =>
        IsInOrder(place) ? Job : Fold(Entries.Where(entry => entry.Place.CompareTo(place) < 0));

    public void Add(Entry entry)
    {
        var inOrder = IsInOrder(entry.Place) && entry.Event is not ReportSettled;
        added.Add(entry);
        Job = inOrder ? Job.Apply(entry) : Fold(Entries);
        Write(StreamEntry.OfJob(Job.Label), entry);
    }

    /// <summary>Adds what follows from a cause: it takes the cause's source and sequence, and an id made from it.</summary>
    /// <param name="at">Its own effective time where it is not the cause's.</param>
    /// <param name="about">The entry its id is made from, where one cause has several such consequences.</param>
    public Entry AddConsequence(WorkshopEvent one, Entry cause, Instant? at = null, EventId? about = null)
    {
        var entry = Consequence(one, cause.Id, cause.Place, cause.Received, cause.RulesVersion, Job.Label, Job.Version + 1, at);
        entry = about is { } made ? entry with { Id = IdOf(one, Job.Label, made) } : entry;
        Add(entry);
        return entry;
    }

    /// <summary>Writes an entry into another job's stream; that job is folded by whoever holds it.</summary>
    public void WriteElsewhere(Label other, Entry entry) => Write(StreamEntry.OfJob(other), entry);

    public Entry Consequence(WorkshopEvent one, EventId cause, Place place, Instant received, long rulesVersion, Label job, long streamVersion, Instant? at = null) => new()
    {
        Id = IdOf(one, job, cause),
        Place = place with { Effective = at ?? place.Effective, Position = NextPosition },
        StreamVersion = streamVersion,
        Received = received,
        Event = one,
        Judged = new Judged { Role = "service" },
        RulesVersion = rulesVersion,
        CausedBy = cause,
    };

    private static EventId IdOf(WorkshopEvent one, Label job, EventId cause) => new(EventId.Service, $"{one.Type}/{StreamEntry.OfJob(job)}/{cause}");

    private Job Fold(IEnumerable<Entry> ordered) => ordered.Aggregate(new Job { Label = Job.Label }, (job, entry) => job.Apply(entry));

    private void Write(string stream, Entry entry)
    {
        written.Add(new StreamEntry(stream, entry));
        NextPosition++;
    }
}
