using NodaTime;
using Workshop.Core.Words;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>The keys that a demo prints: one for each role, each speaking for a place that has not spoken before.</summary>
internal static class DemoKeys
{
    private static readonly (Role Role, string Source, string? Bench)[] Places =
    [
        (Role.Desk, "/desk/front", null),
        (Role.Bench, "/devices/bench-1/1", "bench-1"),
        (Role.Manager, "/desk/office", null),
        (Role.Storefront, "/storefront/shop", null),
        (Role.Wall, "/devices/wall/1", null),
    ];

    /// <summary>What each key speaks for, by role.</summary>
    public static readonly IReadOnlyDictionary<string, string> Sources = Places.ToDictionary(place => Word.Of(place.Role), place => place.Source);

    /// <summary>Makes them; by role.</summary>
    public static IReadOnlyDictionary<string, string> Make(ApiKeys keys, Instant now) =>
        Places.ToDictionary(place => Word.Of(place.Role), place => keys.Add(Migrations.FirstSite, place.Source, Word.Of(place.Role), place.Bench, now).Secret);
}
