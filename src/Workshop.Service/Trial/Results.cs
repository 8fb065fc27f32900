using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Mvc;
using Workshop.Service.Features.BenchEvents;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Trial;

/// <summary>What the stand-in says to single events: the service's own shapes, with lines that can be recognised.</summary>
internal static class Results
{
    public static EventResult Accepted(CloudEvent one) => Taken(one, EventOutcome.Accepted, new Say(Signal.Ok, $"Number {one.Sequence} is accepted"));

    public static EventResult Accepted(CloudEvent one, Say say) => Taken(one, EventOutcome.Accepted, say);

    public static EventResult Noted(CloudEvent one, string line) => Taken(one, EventOutcome.Noted, new Say(Signal.Ask, line)) with { Flags = ["late", "for-review"] };

    public static EventResult Held(CloudEvent one, string line) => Taken(one, EventOutcome.Held, new Say(Signal.Ask, line));

    /// <summary>A gate stands against it.</summary>
    public static EventResult Gate(CloudEvent one, string line, string helps)
    {
        var problem = GateProblems.All.First(gate => gate.Code == "needs");
        return Refused(one, Problems.Details(problem, line, ("gate", "needs/rebuild"), ("strength", "ask"), ("helps", helps)), line);
    }

    public static EventResult Refused(CloudEvent one, ProblemKind kind, string line) => Refused(one, Problems.Details(kind, line), line);

    /// <summary>The same again: the first verdict, said to be so.</summary>
    public static EventResult Again(EventResult first)
    {
        if (first.Problem is not { } problem)
        {
            // What waits goes on waiting: that is no verdict yet.
            return first.Outcome == EventOutcome.Held ? first : first with { Outcome = EventOutcome.Replayed, First = first.Outcome };
        }

        problem.Extensions["replayed"] = true;
        return first;
    }

    /// <summary>As one of a batch.</summary>
    public static JsonObject InBatch(EventResult result) => JsonSerializer.SerializeToNode(result, WorkshopJson.Options)!.AsObject();

    /// <summary>As the answer to an event that came alone: a refused one is answered with its problem.</summary>
    public static (int Status, string MediaType, JsonObject Body) Alone(EventResult result)
    {
        if (result.Problem is not { } problem)
        {
            return (StatusCodes.Status200OK, AnswerText.Json, InBatch(result));
        }

        var body = JsonSerializer.SerializeToNode(problem, WorkshopJson.Options)!.AsObject();
        body["say"] = JsonSerializer.SerializeToNode(result.Say, WorkshopJson.Options);
        body["job"] = result.Job;
        return (problem.Status!.Value, Problems.MediaType, body);
    }

    private static EventResult Taken(CloudEvent one, EventOutcome outcome, Say say) => new()
    {
        Id = one.Id,
        Outcome = outcome,
        Job = one.Subject,
        Version = outcome == EventOutcome.Held ? null : one.Sequence,
        Say = say,
    };

    private static EventResult Refused(CloudEvent one, ProblemDetails problem, string line) => new()
    {
        Id = one.Id,
        Outcome = EventOutcome.Refused,
        Job = one.Subject,
        Say = new Say(Signal.Stop, line),
        Problem = problem,
    };
}
