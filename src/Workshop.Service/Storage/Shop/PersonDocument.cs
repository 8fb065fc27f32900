using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage.Shop;

/// <summary>Somebody of the house.</summary>
public sealed record PersonDocument : IShopDocument
{
    /// <summary>A short name; entries of the journal keep it.</summary>
    public string? Id { get; init; }

    [StringLength(100, MinimumLength = 1)]
    public required string Name { get; init; }

    /// <summary>May waive, settle, decide claims.</summary>
    public bool Manager { get; init; }

    /// <summary>The label on the badge.</summary>
    [StringLength(20)]
    public string? Badge { get; init; }

    /// <summary>What they do, in a few words.</summary>
    [StringLength(200)]
    public string? Work { get; init; }

    /// <summary>Where they usually sit.</summary>
    [StringLength(60)]
    public string? Bench { get; init; }

    /// <summary>What they can do, in the shop's own words, for example <c>chronographs</c>.</summary>
    [Length(0, 30)]
    public ImmutableArray<string> Skills { get; init; } = [];

    /// <summary>The last day in the house; what they say of later days is flagged.</summary>
    public LocalDate? LeftOn { get; init; }

    /// <summary>Who or what gets the pieces they still hold when they leave: <c>people/…</c>, <c>places/…</c>, <c>benches/…</c>.</summary>
    [StringLength(80)]
    public string? HandTo { get; init; }

    string? IShopDocument.OnLabel => Badge;

    string IShopDocument.OnLabelPointer => "/badge";

    public IEnumerable<Fault> Faults(DocumentCheck check)
    {
        if (Bench is { } bench && !check.Has(ShopRulesReader.Bench, bench))
        {
            yield return new Fault("/bench", "There is no such bench");
        }

        if (HandTo is { } to)
        {
            if (LeftOn is null)
            {
                yield return new Fault("/handTo", "This belongs to somebody who leaves: say leftOn, too");
            }

            if (to.Split('/') is not [var what, { Length: > 0 } whom] || what is not ("people" or "places" or "benches"))
            {
                yield return new Fault("/handTo", "This is none of people/…, places/…, benches/…");
            }
            else if ((what == "people" && (whom == check.Id || !check.Rules.People.TryGetValue(whom, out var other) || other.HasLeft(check.Today)))
                || (what == "benches" && !check.Has(ShopRulesReader.Bench, whom)))
            {
                yield return new Fault("/handTo", $"There is no {to} who could take it");
            }
        }
    }
}
