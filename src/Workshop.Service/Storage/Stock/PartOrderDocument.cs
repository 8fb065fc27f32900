using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Service.Storage.Stock;

/// <summary>What is ordered: so many of a part, for a watch or for the shelf.</summary>
public sealed record PartOrderLine
{
    /// <summary>Its id in the shop's list of parts.</summary>
    [StringLength(60, MinimumLength = 1)]
    public required string Part { get; init; }

    [Range(1, 100_000)]
    public required int Count { get; init; }

    /// <summary>The label of the watch it is for; for the shelf where left out.</summary>
    [StringLength(40)]
    public string? Job { get; init; }

    /// <summary>The day it is to come.</summary>
    public LocalDate? ExpectedOn { get; init; }
}

/// <summary>An order of parts. Watches that wait for a line are told of every change; the days that were said before stand in the order's versions.</summary>
public sealed record PartOrderDocument
{
    public string? Id { get; init; }

    /// <summary>The firm it was sent to.</summary>
    [StringLength(60)]
    public string? Firm { get; init; }

    public required LocalDate OrderedOn { get; init; }

    [Length(1, 200)]
    public required ImmutableArray<PartOrderLine> Lines { get; init; }

    /// <summary>Nothing more will come of it; nobody waits for it any longer.</summary>
    public bool Cancelled { get; init; }

    [StringLength(1_000)]
    public string? Remark { get; init; }

    /// <summary>What watches wait for by this order, by watch and part.</summary>
    internal Dictionary<(string Job, string Part), (int Count, LocalDate? On)> Awaited() => Cancelled ? [] : Lines
        .Where(line => line.Job is not null)
        .GroupBy(line => (Label.Read(line.Job!).ToString(), line.Part))
        .ToDictionary(line => line.Key, line => (line.Sum(one => one.Count), line.Max(one => one.ExpectedOn)));

    /// <param name="knowsPart">Whether the shop has written the part down.</param>
    /// <param name="isInHouse">Whether there is such a watch, and it has not left.</param>
    internal IEnumerable<Fault> Faults(string id, LocalDate today, Func<string, bool> knowsPart, Func<Label, bool> isInHouse)
    {
        if (Id is { } own && own != id)
        {
            yield return new Fault("/id", $"The id of this order is '{id}'");
        }

        if (OrderedOn > today)
        {
            yield return new Fault("/orderedOn", $"This day is to come; today is {today:uuuu-MM-dd}");
        }

        foreach (var (i, line) in Lines.Index())
        {
            if (!knowsPart(line.Part))
            {
                yield return new Fault($"/lines/{i}/part", $"There is no part '{line.Part}' yet");
            }

            if (line.ExpectedOn < OrderedOn)
            {
                yield return new Fault($"/lines/{i}/expectedOn", "This is before it was ordered");
            }

            if (line.Job is not { } job)
            {
                continue;
            }

            if (!Label.TryRead(job, out var label) || label.Value.Kind != LabelKind.Job)
            {
                yield return new Fault($"/lines/{i}/job", "This is no label of a watch");
            }
            else if (!Cancelled && !isInHouse(label.Value))
            {
                yield return new Fault($"/lines/{i}/job", "No watch of the house has this label");
            }
        }
    }
}
