using System.Text.Json.Nodes;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Tests.Simulation;

/// <summary>An event as a tablet keeps it until it knows what became of it.</summary>
internal sealed record Said(EventId Id, long Number, string Type, string Subject, string Data, string Text);

/// <summary>
/// A tablet at a bench, as it should be and no better: numbers what it says, keeps it until there is a verdict, and believes its own
/// clock. What it thinks of a watch is what it last saw, and what was done at it since.
/// </summary>
internal sealed class Tablet(string name, Caller caller, string person)
{
    private readonly Dictionary<Label, Job> seen = [];
    private readonly HashSet<(Label, Stage)> doneSince = [];
    private long last;

    public string Name => name;

    public Caller Caller => caller;

    public string Person => person;

    /// <summary>The tablet's clock minus the true one.</summary>
    public Duration ClockAhead { get; set; }

    public bool TellsSentAt { get; init; }

    public bool TellsTime { get; init; } = true;

    /// <summary>Chance of each of the things that can go wrong with a post.</summary>
    public double BadLine { get; init; }

    public Instant OfflineUntil { get; set; }

    /// <summary>What waits for a verdict, in order.</summary>
    public List<Said> Waiting { get; } = [];

    public Instant? SentAt(Instant now) => TellsSentAt ? now + ClockAhead : null;

    /// <summary>Something happens at the bench.</summary>
    public Said Say(Instant now, string type, string subject, string data)
    {
        var number = ++last;
        var text = new JsonObject
        {
            ["specversion"] = "1.0",
            ["id"] = $"e-{number}",
            ["source"] = caller.Source,
            ["type"] = type,
            ["subject"] = subject,
            ["sequence"] = $"{number}",
        };
        if (TellsTime)
        {
            text["time"] = InstantPattern.ExtendedIso.Format(now + ClockAhead);
        }

        var said = new Said(new EventId(caller.Source, $"e-{number}"), number, type, subject, data, $"{text.ToJsonString()[..^1]},\"data\":{data}}}");
        Waiting.Add(said);
        return said;
    }

    /// <summary>A number is used up and what it stood for is gone.</summary>
    public long LoseOne() => ++last;

    /// <summary>There is a verdict: it need not be kept any longer.</summary>
    public void Forget(string id) => Waiting.RemoveAll(said => said.Id.Id == id);

    public void See(Label label, Job job)
    {
        seen[label] = job;
        doneSince.RemoveWhere(done => done.Item1 == label);
    }

    public Job? Believed(Label label) => seen.GetValueOrDefault(label);

    /// <summary>The stages that are next, as this tablet sees it.</summary>
    public IEnumerable<Stage> Open(Label label) => Believed(label) is not { } job ? [] : job.Standings.Plan
        .Where(planned => !job.Standings.Stands(planned.Stage) && !doneSince.Contains((label, planned.Stage)))
        .Select(planned => planned.Stage);

    public void Did(Label label, Stage stage) => doneSince.Add((label, stage));
}
