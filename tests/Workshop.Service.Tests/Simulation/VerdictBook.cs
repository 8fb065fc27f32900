using System.Text.Json;
using Workshop.Core.Journal;

namespace Workshop.Service.Tests.Simulation;

/// <summary>A verdict as a device was told it: what became of the event, and everything else it is to be the same in the next time.</summary>
internal sealed record ToldVerdict(string Outcome, string Flags, string? Code, string Whole);

/// <summary>
/// What devices were told, by the identity of what they had said: kept outside of the service, so that the service can be held to it.
/// </summary>
internal sealed class VerdictBook
{
    private readonly Dictionary<EventId, Said> said = [];
    private readonly Dictionary<EventId, ToldVerdict> verdicts = [];
    private readonly HashSet<EventId> waiting = [];
    private readonly HashSet<EventId> turnedAway = [];

    /// <summary>Where the service has contradicted itself.</summary>
    public List<string> Contradictions { get; } = [];

    public IReadOnlyDictionary<EventId, Said> Said => said;

    public IReadOnlyDictionary<EventId, ToldVerdict> Verdicts => verdicts;

    /// <summary>Events that were taken in to wait.</summary>
    public IReadOnlyCollection<EventId> Waiting => waiting;

    /// <summary>Events that a device may not say from where it stands: nothing is kept of them, and no verdict is given.</summary>
    public IReadOnlyCollection<EventId> TurnedAway => turnedAway;

    public void Say(Said one) => said.Add(one.Id, one);

    /// <summary>Hears an answer that the service has given, whether it reached the device or not.</summary>
    /// <returns>true: the device need not keep it any longer.</returns>
    public bool Hear(EventId id, JsonElement told)
    {
        var outcome = told.TryGetProperty("outcome", out var member) ? member.GetString()! : "refused";
        if (outcome == "held")
        {
            waiting.Add(id);
            if (verdicts.ContainsKey(id))
            {
                Contradictions.Add($"{id} waits, after its verdict was told.");
            }

            return false;
        }

        var problem = told.TryGetProperty("problem", out var inner) ? inner : told;
        var again = outcome == "replayed" || (outcome == "refused" && problem.TryGetProperty("replayed", out var replayed) && replayed.GetBoolean());
        if (!again && outcome == "refused" && problem.GetProperty("status").GetInt32() == 403)
        {
            if (verdicts.ContainsKey(id))
            {
                Contradictions.Add($"{id} was turned away, after its verdict was told.");
            }

            turnedAway.Add(id);
            return true;
        }

        var verdict = new ToldVerdict(
            outcome == "replayed" ? told.GetProperty("first").GetString()! : outcome,
            told.TryGetProperty("flags", out var flags) ? string.Join(' ', flags.EnumerateArray().Select(flag => flag.GetString())) : "",
            outcome == "refused" ? problem.GetProperty("code").GetString() : null,
            Essence(told, problem, outcome));
        if (verdicts.TryGetValue(id, out var first))
        {
            if (verdict != first)
            {
                Contradictions.Add($"{id} was told {first}, and then {verdict}.");
            }

            if (!again)
            {
                Contradictions.Add($"{id} was judged a second time: {verdict}.");
            }
        }

        verdicts[id] = verdict;
        return true;
    }

    private static string Essence(JsonElement told, JsonElement problem, string outcome)
    {
        var say = told.TryGetProperty("say", out var line) ? line.GetProperty("line").GetString() : null;
        return outcome == "refused"
            ? $"{problem.GetProperty("status").GetInt32()} {problem.GetProperty("detail").GetString()} {say}"
            : $"{Text(told, "version")} {Text(told, "effective")} {say}";
    }

    private static string? Text(JsonElement told, string member) => told.TryGetProperty(member, out var value) ? value.ToString() : null;
}
