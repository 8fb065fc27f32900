using System.Collections.Frozen;
using System.Collections.Immutable;
using Workshop.Core.Labels;

namespace Workshop.Service.Storage.Shop;

/// <summary>Every kind of document that the shop's owner edits: the one table of it.</summary>
public static class ShopKinds
{
    private static readonly ImmutableArray<ShopKind> Rows =
    [
        ShopKind.Of<SettingsDocument>("settings", "settings", single: true),
        ShopKind.Of<CalendarDocument>(ShopRulesReader.Calendar, "calendar", single: true, inAgenda: true),
        ShopKind.Of<RulesDocument>(ShopRulesReader.Rules, "rules", single: true, inAgenda: true),
        ShopKind.Of<BenchDocument>(ShopRulesReader.Bench, "benches", label: LabelKind.Bench, inAgenda: true),
        ShopKind.Of<PersonDocument>(ShopRulesReader.People, "people", label: LabelKind.Badge, inAgenda: true),
        ShopKind.Of<DeviceDocument>("device", "devices", inHouse: true),
        ShopKind.Of<VariantDocument>(ShopRulesReader.Variant, "variants"),
        ShopKind.Of<CalibreDocument>("calibre", "calibres"),
        ShopKind.Of<FirmDocument>("firm", "firms", inAgenda: true),
        ShopKind.Of<CleaningMachineDocument>(ShopRulesReader.CleaningMachine, "cleaning-machines"),
        ShopKind.Of<ProgrammeDocument>(ShopRulesReader.Programme, "programmes"),
        ShopKind.Of<CageDocument>(ShopRulesReader.Cage, "cages", label: LabelKind.Cage),
        ShopKind.Of<WinderPlaceDocument>("winder-place", "winder-places", label: LabelKind.WinderPlace),
        ShopKind.Of<LettersDocument>("letters", "letters"),
        ShopKind.Of<FluidBatchDocument>("fluid-batch", "fluid-batches", label: LabelKind.FluidBatch, inHouse: true),
    ];

    private static readonly FrozenDictionary<string, ShopKind> ByName = Rows.ToFrozenDictionary(row => row.Name, StringComparer.Ordinal);
    private static readonly FrozenDictionary<Type, ShopKind> ByDocument = Rows.ToFrozenDictionary(row => row.Document);

    public static IEnumerable<ShopKind> All => Rows;

    /// <summary>The kind of this name, or null.</summary>
    public static ShopKind? Find(string name) => ByName.GetValueOrDefault(name);

    public static ShopKind Of<T>() where T : class, IShopDocument => ByDocument[typeof(T)];
}
