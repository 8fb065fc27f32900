using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Parts;

namespace Workshop.Service.Storage.Stock;

/// <summary>A count of the shelf: what came and went since is added and taken off.</summary>
/// <param name="Pieces">On the shelf at that moment, those set aside for watches among them.</param>
public sealed record ShelfCount([property: Range(0, 1_000_000)] int Pieces, Instant At);

/// <summary>Another part, and which of the two may stand in for which.</summary>
public sealed record Interchange([property: StringLength(60, MinimumLength = 1)] string Part, InterchangeDirection Direction);

/// <summary>A spare part as the shop has written it down.</summary>
public sealed record PartDocument
{
    public string? Id { get; init; }

    [StringLength(200, MinimumLength = 1)]
    public required string Name { get; init; }

    [StringLength(100)]
    public string? Maker { get; init; }

    /// <summary>The number its maker gives it.</summary>
    [StringLength(100)]
    public string? MakersNumber { get; init; }

    /// <summary>Ids of calibres it belongs to.</summary>
    [Length(0, 200)]
    public ImmutableArray<string> ForCalibres { get; init; } = [];

    [Length(0, 100)]
    public ImmutableArray<Interchange> Interchange { get; init; } = [];

    /// <summary>The last count of the shelf; nothing was there where left out.</summary>
    public ShelfCount? Counted { get; init; }

    /// <summary>A watch that waits for it is not to be taken apart before it is in the house.</summary>
    public bool Essential { get; init; }

    /// <summary>Open days until it usually comes; the shop's usual ones where left out.</summary>
    [Range(1, 500)]
    public int? UsualWorkingDays { get; init; }

    /// <summary>The firm it usually comes from.</summary>
    [StringLength(60)]
    public string? Firm { get; init; }

    [StringLength(1_000)]
    public string? Remark { get; init; }

    /// <param name="known">Whether there is a part of this id.</param>
    internal IEnumerable<Fault> Faults(string id, Instant now, Func<string, bool> known)
    {
        if (Id is { } own && own != id)
        {
            yield return new Fault("/id", $"The id of this part is '{id}'");
        }

        if (Counted is { } counted && counted.At > now)
        {
            yield return new Fault("/counted/at", "This moment is to come");
        }

        foreach (var (i, other) in Interchange.Index())
        {
            if (other.Part == id)
            {
                yield return new Fault($"/interchange/{i}/part", "A part stands in for another one, not for itself");
            }
            else if (!known(other.Part))
            {
                yield return new Fault($"/interchange/{i}/part", $"There is no part '{other.Part}' yet");
            }
        }
    }
}
