using System.Text.RegularExpressions;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Shop;

namespace Workshop.Service.Storage.Shop;

/// <summary>
/// One of the shop's own documents as its owner writes it. Limits on single members are attributes, as with every body; what one
/// member means for another is said by <see cref="Faults"/>.
/// </summary>
public interface IShopDocument
{
    /// <summary>The id within its kind, where the document repeats it; it is part of the address.</summary>
    string? Id => null;

    /// <summary>The label stuck on the thing, where it has one.</summary>
    string? OnLabel => null;

    /// <summary>The member that <see cref="OnLabel"/> stands in, as a JSON Pointer.</summary>
    string OnLabelPointer => "/label";

    /// <summary>The same with what is computed when it is saved. Asked only of a document that is right.</summary>
    IShopDocument Completed(DocumentCheck check) => this;

    /// <summary>What is worth knowing about what was saved.</summary>
    IEnumerable<string> Remarks() => [];

    /// <summary>What is wrong with it as a whole; pointers lead into the document.</summary>
    IEnumerable<Fault> Faults(DocumentCheck check);
}

/// <summary>What a document is held against before it is saved.</summary>
public sealed partial record DocumentCheck
{
    /// <summary>The id under which it is to be saved.</summary>
    public required string Id { get; init; }

    /// <summary>The shop's rules in force.</summary>
    public required ShopRules Rules { get; init; }

    /// <summary>The workshop's own date.</summary>
    public required LocalDate Today { get; init; }

    /// <summary>The newest version of every document of a kind.</summary>
    public required Func<string, IReadOnlyList<ShopDocument>> OfKind { get; init; }

    /// <summary>What a label names by now: null for one nobody knows, empty for a blank one.</summary>
    public required Func<Label, string?> NamesOf { get; init; }

    /// <summary>Whether the shop has a document of this kind and id.</summary>
    public bool Has(string kind, string id) => OfKind(kind).Any(one => one.Id == id);

    /// <summary>An id: lower case, digits and hyphens, at most 60 of them.</summary>
    public static bool IsId(string text) => IdPattern().IsMatch(text);

    [GeneratedRegex(@"^[a-z0-9][a-z0-9-]{0,59}\z")]
    private static partial Regex IdPattern();
}
