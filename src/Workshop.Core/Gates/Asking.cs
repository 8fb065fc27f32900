using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Core.Takedown;

namespace Workshop.Core.Gates;

/// <summary>An event as the gates see it: what it says, by whom, where and when.</summary>
public sealed record Asking
{
    public required WorkshopEvent Event { get; init; }

    public string? Person { get; init; }

    public string? Bench { get; init; }

    /// <summary>The label under which it is told, by somebody who had it before their eyes; null for commands.</summary>
    public Label? Under { get; init; }

    public required string Role { get; init; }

    /// <summary>What a step of a takedown goes by; null for every other event.</summary>
    public TakedownTerms? Takedown { get; init; }

    public required Instant At { get; init; }

    public required ShopRules Rules { get; init; }

    /// <summary>The asking of an entry that was accepted before, for the rules of today.</summary>
    public static Asking Again(Entry entry, ShopRules rules) => new()
    {
        Event = entry.Event,
        Person = entry.Person,
        Bench = entry.Judged.Bench,
        Under = entry.Judged.Under,
        Role = entry.Judged.Role ?? "bench",
        At = entry.Effective,
        Rules = rules,
        Takedown = entry.Judged.Takedown,
    };
}
