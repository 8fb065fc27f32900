using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Casing;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Service.Features.Jobs;

/// <summary>One place of the watch, as it was when it came in.</summary>
public sealed record PlaceCondition
{
    public required ConditionPlace Place { get; init; }

    public required ConditionWord Condition { get; init; }

    [StringLength(500)]
    public string? Note { get; init; }
}

/// <summary>A function that was tried when the watch came in.</summary>
public sealed record FunctionAtArrival
{
    /// <summary>A word of the list <c>function</c>.</summary>
    [StringLength(40)]
    public required string Function { get; init; }

    public required ArrivalState State { get; init; }

    [StringLength(500)]
    public string? Note { get; init; }
}

/// <summary>How the watch was when it came in, besides its looks.</summary>
public sealed record ArrivalNotes
{
    public ArrivalRun? Running { get; init; }

    public ArrivalState? Crown { get; init; }

    public ArrivalState? Pushers { get; init; }

    [Length(0, 30)]
    public ImmutableArray<FunctionAtArrival> Functions { get; init; } = [];

    /// <summary>Links of the bracelet on the watch, counted before the customer's eyes.</summary>
    [Range(0, 200)]
    public int? LinksCounted { get; init; }

    /// <summary>The seal of whoever repaired it before.</summary>
    public SealState? Seal { get; init; }

    /// <summary>Photographs taken at the desk.</summary>
    [Range(0, 500)]
    public int? PhotosTaken { get; init; }

    public IEnumerable<Fault> Faults(string pointer)
    {
        var known = WordLists.All.Single(list => list.Name == "function").Words.Select(row => row.Word).ToArray();
        foreach (var (i, one) in Functions.Index())
        {
            if (!known.Contains(one.Function, StringComparer.Ordinal))
            {
                yield return new Fault($"{pointer}/functions/{i}/function", $"This is none of {string.Join(", ", known)}");
            }
            else if (Functions.Take(i).Any(before => before.Function == one.Function))
            {
                yield return new Fault($"{pointer}/functions/{i}/function", "Each function is said once");
            }
        }
    }
}
