using System.Collections.Immutable;
using System.Text.Json;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Shop;

/// <summary>A document in a list.</summary>
/// <param name="Version">1, 2, 3 …; with If-Match it says which state was seen.</param>
public sealed record ListedDocument<T>(string Id, long Version, Instant SavedAt, T Document) where T : class, IShopDocument
{
    public static ListedDocument<T> Of(ShopDocument stored) => new(stored.Id, stored.Version, Microseconds.Read(stored.Saved), Read(stored));

    /// <summary>A document as it was saved.</summary>
    internal static T Read(ShopDocument stored) => JsonSerializer.Deserialize<T>(stored.Document, WorkshopJson.Options)!;
}

/// <summary>A document as it was saved just now.</summary>
/// <param name="RulesVersion">The version of the shop's rules that began with it; entries of the journal say by which they were judged.</param>
/// <param name="Remarks">What is worth knowing about what was saved.</param>
public sealed record SavedDocument<T>(string Id, long Version, Instant SavedAt, long RulesVersion, ImmutableArray<string> Remarks, T Document) where T : class, IShopDocument;

/// <summary>A version of a document: when it was saved, and by whom.</summary>
/// <param name="Person">Who of the house, where it is known.</param>
public sealed record DocumentVersion(long Version, Instant SavedAt, string Source, string? Person, long RulesVersion);
