using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Core.Jobs;

/// <summary>
/// A job while a decision adds entries to it. An entry behind all others is applied to the folded job; one that slips in between, or
/// that says something about others, makes the job fold anew.
/// </summary>
internal sealed class GrowingJob(JobHistory history, long nextPosition)
{
    private readonly ImmutableArray<StreamEntry>.Builder written = ImmutableArray.CreateBuilder<StreamEntry>();
    private readonly List<Entry> added = [];
    private Reckoning? reckoning;

    public Job Job { get; private set; } = history.Job;

    public ImmutableArray<StreamEntry> Written => written.ToImmutable();

    /// <summary>The position the next entry takes.</summary>
    public long NextPosition { get; private set; } = nextPosition;

    public bool IsInOrder(Place place) => Job.Last is not { } last || place.CompareTo(last) > 0;

    /// <summary>What every entry so far counts as.</summary>
    public Reckoning Reckoning => reckoning ??= Reckoning.Of(history.Entries.Concat(added));

    /// <summary>All entries in the order of their places, each as it counts.</summary>
    public ImmutableArray<Entry> Entries => Reckoning.Entries;

    /// <summary>The entries as they would count with one more.</summary>
    public ImmutableArray<Entry> EntriesWith(Entry one) => Reckoning.InOrder([.. history.Entries, .. added, one]);

    /// <summary>The job as it was at a place, before the entry that takes it.</summary>
    public Job JobBefore(Place place) =>
        IsInOrder(place) ? Job : JobBefore(place, Entries);

    /// <summary>The job at a place, by these entries.</summary>
    public Job JobBefore(Place place, ImmutableArray<Entry> ordered) => Fold(ordered.TakeWhile(entry => entry.Place.CompareTo(place) < 0));

    public void Add(Entry entry)
    {
        var inOrder = IsInOrder(entry.Place) && !Reckoning.Changes(entry);
        added.Add(entry);
        reckoning = null;
        Job = inOrder ? Job.Apply(entry) : Fold(Entries);
        Write(StreamEntry.OfJob(Job.Label), entry);
    }

    /// <summary>Adds what follows from a cause: it takes the cause's source and sequence, and an id made from it.</summary>
    /// <param name="at">Its own effective time where it is not the cause's.</param>
    /// <param name="about">The entry its id is made from, where one cause has several such consequences.</param>
    /// <param name="judged">What is frozen in it besides that the service says it.</param>
    /// <param name="flag">What is to be known about it, where there is something.</param>
    public Entry AddConsequence(WorkshopEvent one, Entry cause, Instant? at = null, EventId? about = null, Judged? judged = null, string? flag = null)
    {
        var entry = Consequence(one, cause.Id, cause.Place, cause.Received, cause.RulesVersion, Job.Label, Job.Version + 1, at);
        entry = entry with { Id = about is { } made ? IdAbout(one, made, cause.Id) : entry.Id, Judged = (judged ?? Judged.Nothing) with { Role = "service" }, Flags = flag is null ? [] : [flag] };
        Add(entry);
        return entry;
    }

    /// <summary>The last entry of a type that followed from a cause in this decision; null where none did.</summary>
    public EventId? LastOf(string type, EventId cause) => added.LastOrDefault(entry => entry.CausedBy == cause && entry.Event.Type == type)?.Id;

    /// <summary>Writes an entry into another job's stream; that job is folded by whoever holds it.</summary>
    public void WriteElsewhere(Label other, Entry entry) => Write(StreamEntry.OfJob(other), entry);

    public Entry Consequence(WorkshopEvent one, EventId cause, Place place, Instant received, long rulesVersion, Label job, long streamVersion, Instant? at = null) => new()
    {
        Id = IdOf(one, job, cause),
        Place = place with { Effective = at ?? place.Effective, Position = NextPosition, InPlaceOf = null },
        StreamVersion = streamVersion,
        Received = received,
        Event = one,
        Judged = new Judged { Role = "service" },
        RulesVersion = rulesVersion,
        CausedBy = cause,
    };

    /// <summary>The job that these entries fold to.</summary>
    public Job Fold(IEnumerable<Entry> ordered) => ordered.Aggregate(new Job { Label = Job.Label }, (job, entry) => job.Apply(entry));

    private static EventId IdOf(WorkshopEvent one, Label job, EventId cause) => new(EventId.Service, $"{one.Type}/{StreamEntry.OfJob(job)}/{cause}");

    // A report that was released, and waited again since what released it was taken back, is released anew by something else.
    private EventId IdAbout(WorkshopEvent one, EventId about, EventId cause)
    {
        var id = IdOf(one, Job.Label, about);
        return Reckoning.Find(id) is null ? id : new EventId(EventId.Service, $"{id.Id}/{cause}");
    }

    private void Write(string stream, Entry entry)
    {
        written.Add(new StreamEntry(stream, entry));
        NextPosition++;
    }
}
