using System.Collections.Immutable;
using System.Text.Json;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Service.Storage.Shop;

/// <summary>One kind of the shop's documents.</summary>
public sealed record ShopKind
{
    private readonly Func<JsonElement, DocumentCheck, ImmutableArray<Fault>> faults;

    private ShopKind(Type document, Func<JsonElement, DocumentCheck, ImmutableArray<Fault>> faults)
    {
        Document = document;
        this.faults = faults;
    }

    /// <summary>As it stands in the table <c>shop_document</c>, for example <c>winder-place</c>.</summary>
    public required string Name { get; init; }

    /// <summary>The last part of its address, for example <c>winder-places</c>; a label names a thing by it, too.</summary>
    public required string Path { get; init; }

    /// <summary>The shop has one such document.</summary>
    public bool Single { get; init; }

    /// <summary>The kind of label that is stuck on such a thing.</summary>
    public LabelKind? Label { get; init; }

    /// <summary>What falls due in jobs depends on it.</summary>
    public bool InAgenda { get; init; }

    /// <summary>What falls due in the house, beside jobs, depends on it.</summary>
    public bool InHouse { get; init; }

    /// <summary>The record it is written as.</summary>
    public Type Document { get; }

    public static ShopKind Of<T>(string name, string path, bool single = false, LabelKind? label = null, bool inAgenda = false, bool inHouse = false) where T : class, IShopDocument =>
        new(typeof(T), CheckAs<T>) { Name = name, Path = path, Single = single, Label = label, InAgenda = inAgenda, InHouse = inHouse };

    /// <summary>Everything that stands against saving this text as a document of the kind.</summary>
    public ImmutableArray<Fault> Faults(string text, DocumentCheck check)
    {
        try
        {
            return faults(JsonElement.Parse(text), check);
        }
        catch (JsonException failure)
        {
            return [JsonFaults.Of(failure)];
        }
    }

    /// <summary>What is wrong with a document that could be read: its id, its label, and what it says as a whole.</summary>
    public ImmutableArray<Fault> Faults(IShopDocument document, DocumentCheck check) =>
    [
        .. document.Id is { } id && id != check.Id ? [new Fault("/id", $"The id of this document is '{check.Id}'")] : Array.Empty<Fault>(),
        .. LabelFaults(document, check),
        .. document.Faults(check),
    ];

    private static ImmutableArray<Fault> CheckAs<T>(JsonElement sent, DocumentCheck check) where T : class, IShopDocument
    {
        if (JsonFields.Check(sent, typeof(T)) is { Count: > 0 } found)
        {
            return [.. found];
        }

        return ShopKinds.Of<T>().Faults(sent.Deserialize<T>(WorkshopJson.Bodies)!, check);
    }

    private IEnumerable<Fault> LabelFaults(IShopDocument document, DocumentCheck check)
    {
        if (document.OnLabel is not { } typed)
        {
            yield break;
        }

        if (!Core.Labels.Label.TryRead(typed, out var label))
        {
            yield return new Fault(document.OnLabelPointer, "This is no label: eight characters, the last of which checks the others");
        }
        else if (label.Value.Kind != Label)
        {
            yield return new Fault(document.OnLabelPointer, "This label is of another kind");
        }
        else if (check.NamesOf(label.Value) is { Length: > 0 } names && names != $"{Path}/{check.Id}")
        {
            yield return new Fault(document.OnLabelPointer, "This label is on something else already");
        }
    }
}
