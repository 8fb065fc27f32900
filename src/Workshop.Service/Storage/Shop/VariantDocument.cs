using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Groups;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Service.Storage.Shop;

/// <summary>One stage of a kind of work as the shop writes it.</summary>
public sealed record VariantStage
{
    public required Stage Stage { get; init; }

    public required Branch Branch { get; init; }

    /// <summary>Stages that must stand first; with <c>!</c> where no tap goes through; <c>everything-before</c> is every required stage above it.</summary>
    [Length(0, 30)]
    public ImmutableArray<string> Needs { get; init; } = [];

    /// <summary>True: done where it is needed; untouched it stands.</summary>
    public bool Optional { get; init; }

    /// <summary>Usual bench minutes.</summary>
    [Range(1, 10_000)]
    public int? Minutes { get; init; }
}

/// <summary>Something a storefront sells, and by which name.</summary>
public sealed record VariantProduct
{
    /// <summary>The storefront.</summary>
    [StringLength(120, MinimumLength = 1)]
    public required string Source { get; init; }

    [StringLength(120, MinimumLength = 1)]
    public required string Product { get; init; }
}

/// <summary>
/// A kind of work as a document of the shop: its stages in order, what it rules out, the figures of its checks, its dates and its warranty.
/// It becomes a <see cref="RouteDefinition"/>, which is frozen into each job.
/// </summary>
public sealed record VariantDocument : IShopDocument
{
    /// <summary>In a stage's needs: every required stage earlier in the list.</summary>
    public const string EverythingBefore = "everything-before";

    /// <summary>The kinds of work that every shop knows by these names; a shop's own begin with <see cref="OwnPrefix"/>.</summary>
    public static readonly ImmutableArray<string> ClosedList =
    [
        "full-automatic", "full-chronograph", "full-hand-wound", "quartz-exchange", "quartz-train", "vintage", "regulation", "cell-and-seals", "case-or-crystal",
        "warranty-return", "return-unrepaired",
    ];

    public const string OwnPrefix = "x-";

    /// <summary>Kinds of calibre that a kind of work may be the usual one for.</summary>
    public static readonly ImmutableArray<string> CalibreKinds = ["automatic", "hand-wound", "chronograph", "quartz"];

    [RegularExpression("[a-z0-9][a-z0-9-]{0,39}")]
    public required string Id { get; init; }

    /// <summary>What people call it; needed for a shop's own.</summary>
    public Wording? Name { get; init; }

    /// <summary>For the owner: what it is for, and where its figures come from.</summary>
    [StringLength(1_000)]
    public string? Note { get; init; }

    /// <summary>False for what nobody orders.</summary>
    public bool Sold { get; init; } = true;

    /// <summary>True for a watch without a balance.</summary>
    public bool? Quartz { get; init; }

    /// <summary>In order; branches run side by side. Without the stage <c>quote</c> price and date are fixed from intake on.</summary>
    [Length(1, 30)]
    public required ImmutableArray<VariantStage> Stages { get; init; }

    /// <summary>Stages it rules out.</summary>
    [Length(0, 30)]
    public ImmutableArray<Stage> Forbidden { get; init; } = [];

    /// <summary>The kind of work to offer where this one is not enough.</summary>
    [StringLength(40)]
    public string? IfMoreIsNeeded { get; init; }

    /// <summary>One of the rules' <c>tolerances</c>.</summary>
    [StringLength(40)]
    public string? ToleranceKind { get; init; }

    /// <summary>True: the calibre's own tolerance goes before that of this kind of work, which stands where the calibre names none.</summary>
    public bool? CalibreToleranceFirst { get; init; }

    /// <summary>Rates between which the worn check passes; those of the tolerance kind where left out.</summary>
    public RateWindow? WornRate { get; init; }

    /// <summary>Figures of the worn check; the usual ones where left out.</summary>
    public WearRules? Wear { get; init; }

    /// <summary>Under this amplitude, dial up at full wind, nothing is regulated.</summary>
    [Range(100, 360)]
    public decimal? RefusedBelowAmplitudeDegrees { get; init; }

    public bool? RadiumSuspectedUntilLooked { get; init; }

    public bool? PolishOnlyOnRequest { get; init; }

    /// <summary>What the customer is told where there is no water test.</summary>
    public Wording? Statement { get; init; }

    /// <summary>Open days from approval, or from intake where there is no quote, to the promised date; 0 for none.</summary>
    [Range(0, 1_000)]
    public int PromisedWorkingDays { get; init; }

    /// <summary>The shop's own target lies this many open days before the promise.</summary>
    [Range(0, 100)]
    public int TargetWorkingDaysBefore { get; init; }

    /// <summary>What the final control looks at.</summary>
    [Length(0, 50)]
    public ImmutableArray<string> FinalChecks { get; init; } = [];

    /// <summary>The groups of parts its movement comes apart into: what the takedown asks for, once a bench declares one.</summary>
    [Length(0, 40)]
    public ImmutableArray<ExpectedGroup> Groups { get; init; } = [];

    [Length(0, 20)]
    public ImmutableArray<WarrantyOffer> Warranty { get; init; } = [];

    /// <summary>Kinds of calibre whose usual work this is, where nobody says what is wanted.</summary>
    [Length(0, 10)]
    public ImmutableArray<string> UsualFor { get; init; } = [];

    [Length(0, 200)]
    public ImmutableArray<VariantProduct> Products { get; init; } = [];

    string? IShopDocument.Id => Id;

    public IEnumerable<Fault> Faults(DocumentCheck check)
    {
        var others = check.OfKind(ShopRulesReader.Variant).Where(one => one.Id != check.Id).Select(one => ShopRulesReader.ReadVariant(one.Document));
        ImmutableArray<Fault> own = [.. VariantFaults.Of(this), .. VariantFaults.Among(this, [.. others], check.Rules.Tolerances)];

        // Needs that name no stage make no route.
        return own.IsEmpty ? check.Rules.Warranties.Unknown(ToRoute()) : own;
    }

    /// <summary>The route that is frozen into jobs.</summary>
    public RouteDefinition ToRoute() => new()
    {
        Id = Id,
        Name = Name,
        Sold = Sold,
        Quartz = Quartz,
        Stages =
        [
            .. Stages.Select((one, i) => new RouteStage
            {
                Stage = one.Stage,
                Branch = one.Branch,
                Needs = [.. one.Needs.SelectMany(need => Expanded(need, i))],
                Optional = one.Optional,
                Minutes = one.Minutes,
            }),
        ],
        Forbidden = Forbidden,
        IfMoreIsNeeded = IfMoreIsNeeded,
        ToleranceKind = ToleranceKind,
        CalibreToleranceFirst = CalibreToleranceFirst,
        WornRate = WornRate,
        Wear = Wear ?? (Stages.Any(one => one.Stage == Stage.WearCheck) ? new WearRules() : null),
        RefusedBelowAmplitudeDegrees = RefusedBelowAmplitudeDegrees,
        RadiumSuspectedUntilLooked = RadiumSuspectedUntilLooked,
        PolishOnlyOnRequest = PolishOnlyOnRequest,
        Statement = Statement,
        PromisedWorkingDays = PromisedWorkingDays,
        TargetWorkingDaysBefore = TargetWorkingDaysBefore,
        FinalChecks = FinalChecks,
        Groups = Groups,
        Warranty = Warranty,
    };

    /// <summary>A need as it is written; null for one that names no stage.</summary>
    internal static Need? NeedOf(string text) => Word.Read<Stage>(text.TrimEnd('!')) is { } stage && text.Length - text.TrimEnd('!').Length <= 1 ? new Need(stage, text.EndsWith('!')) : null;

    internal static bool IsEverythingBefore(string need) => need is EverythingBefore or EverythingBefore + "!";

    private IEnumerable<Need> Expanded(string need, int at) =>
        IsEverythingBefore(need) ? Stages.Take(at).Where(one => !one.Optional).Select(one => new Need(one.Stage, need.EndsWith('!')))
        : NeedOf(need) is { } one ? [one]
        : throw new ArgumentException($"'{need}' names no stage.");
}
