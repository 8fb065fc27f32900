using System.Diagnostics.Metrics;

namespace Workshop.Service.Meters;

/// <summary>
/// What is counted while the program works, for whoever watches over it. A label's value is a word of a closed list, never what names a
/// watch, a person, an address or a token. Adding to a counter is a few nanoseconds where nobody reads, and no write anywhere.
/// </summary>
public sealed class WorkshopMeters
{
    /// <summary>By which the instruments are found.</summary>
    public const string Name = "Workshop";

    private readonly Counter<long> entries;
    private readonly Histogram<int> group;
    private readonly Counter<long> received;
    private readonly Counter<long> deliveries;
    private readonly Counter<long> letters;
    private readonly Counter<long> tasks;
    private readonly Counter<long> recordings;

    public WorkshopMeters(IMeterFactory factory)
    {
        var meter = factory.Create(Name);
        entries = meter.CreateCounter<long>("workshop.entries", "{entry}", "Entries written to the journal.");
        group = meter.CreateHistogram("workshop.turns_together", "{turn}", "Turns that shared one commit.", advice: new InstrumentAdvice<int> { HistogramBucketBoundaries = [1, 2, 4, 8, 16, 32] });
        received = meter.CreateCounter<long>("workshop.events_received", "{event}", "Events of benches and desks by what they were answered.");
        deliveries = meter.CreateCounter<long>("workshop.deliveries", "{attempt}", "Attempts to deliver a message to an endpoint, by what came of them.");
        letters = meter.CreateCounter<long>("workshop.letters", "{attempt}", "Attempts to send a letter by mail, by what came of them.");
        tasks = meter.CreateCounter<long>("workshop.tasks", "{run}", "Runs of tasks, by task and what came of them.");
        recordings = meter.CreateCounter<long>("workshop.recordings", "{attempt}", "Attempts to listen to a recording, by what came of them.");
    }

    public void Committed(int turns, long written)
    {
        group.Record(turns);
        entries.Add(written);
    }

    /// <param name="outcome">A word of <c>eventOutcome</c>.</param>
    public void Received(string outcome) => received.Add(1, Outcome(outcome));

    /// <param name="verdict">A word of the plan of attempts.</param>
    public void Delivered(string verdict) => deliveries.Add(1, Outcome(verdict));

    /// <param name="outcome">What the mail server made of it.</param>
    public void Letter(string outcome) => letters.Add(1, Outcome(outcome));

    /// <param name="task">The name of its class.</param>
    public void TaskRan(string task, bool failed) => tasks.Add(1, new KeyValuePair<string, object?>("task", task), Outcome(failed ? "failed" : "done"));

    /// <param name="outcome">A word of <c>readingClass</c>, or of <c>listeningFailure</c>.</param>
    public void ListenedTo(string outcome) => recordings.Add(1, Outcome(outcome));

    private static KeyValuePair<string, object?> Outcome(string word) => new("outcome", word);
}
