using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;

namespace Workshop.Service.Storage.Shop;

/// <summary>What can be wrong with a kind of work, each fault with the place it stands at.</summary>
internal static class VariantFaults
{
    private static readonly Duration LeastWear = Duration.FromHours(22);
    private static readonly Duration MostWear = Duration.FromHours(24 * 60);

    /// <summary>The branches a stage may stand in; the word is the same in every shop, and so is the part of the house.</summary>
    private static readonly ImmutableSortedDictionary<Stage, Branch> BranchOf = new Dictionary<Stage, Branch>
    {
        [Stage.Intake] = Branch.Front,
        [Stage.Diagnosis] = Branch.Front,
        [Stage.Quote] = Branch.Front,
        [Stage.Queue] = Branch.Front,
        [Stage.Takedown] = Branch.Movement,
        [Stage.Cleaning] = Branch.Movement,
        [Stage.Inspection] = Branch.Movement,
        [Stage.Rebuild] = Branch.Movement,
        [Stage.Regulation] = Branch.Movement,
        [Stage.CaseStrip] = Branch.Case,
        [Stage.CaseWork] = Branch.Case,
        [Stage.Gaskets] = Branch.Case,
        [Stage.DialAndHands] = Branch.Assembly,
        [Stage.Casing] = Branch.Assembly,
        [Stage.WaterTest] = Branch.Assembly,
        [Stage.WearCheck] = Branch.Assembly,
        [Stage.ReserveAndFunctions] = Branch.Assembly,
        [Stage.FinalControl] = Branch.Assembly,
        [Stage.Settlement] = Branch.Release,
        [Stage.Ready] = Branch.Release,
        [Stage.HandedOver] = Branch.Release,
        [Stage.ReturnUnrepaired] = Branch.Release,
    }.ToImmutableSortedDictionary();

    public static IEnumerable<Fault> Of(VariantDocument variant) =>
    [
        .. Identity(variant),
        .. variant.Stages.Index().SelectMany(one => AtStage(variant, one.Item, one.Index)),
        .. Whole(variant),
        .. Wear(variant),
        .. Figures(variant),
        .. Lists(variant),
    ];

    public static IEnumerable<Fault> Among(VariantDocument variant, ImmutableArray<VariantDocument> others, IReadOnlyDictionary<string, ToleranceKind> tolerances)
    {
        if (variant.ToleranceKind is { } kind)
        {
            if (!tolerances.TryGetValue(kind, out var tolerance))
            {
                yield return new Fault("/toleranceKind", $"The shop has no tolerance kind '{kind}'; it has {string.Join(", ", tolerances.Keys.Order(StringComparer.Ordinal))}");
            }
            else if (tolerance.Quartz is not null != (variant.Quartz == true))
            {
                yield return new Fault("/toleranceKind", tolerance.Quartz is not null ? $"'{kind}' is for a quartz watch" : $"'{kind}' is for a watch with a balance");
            }
        }

        if (variant.IfMoreIsNeeded is { } more && others.All(other => other.Id != more))
        {
            yield return new Fault("/ifMoreIsNeeded", $"The shop has no other kind of work '{more}'");
        }

        foreach (var (i, product) in variant.Products.Index())
        {
            if (others.FirstOrDefault(other => other.Products.Contains(product)) is { } owner)
            {
                yield return new Fault($"/products/{i}", $"'{owner.Id}' has this product");
            }
        }

        foreach (var (i, calibre) in variant.UsualFor.Index())
        {
            if (others.FirstOrDefault(other => other.UsualFor.Contains(calibre)) is { } owner)
            {
                yield return new Fault($"/usualFor/{i}", $"'{owner.Id}' is the usual work for it");
            }
        }
    }

    /// <summary>Tolerance kinds that a kind of work names and that these rules would not have.</summary>
    public static IEnumerable<Fault> Unnamed(RulesDocument rules, DocumentCheck check) =>
        check.OfKind(ShopRulesReader.Variant)
            .Select(one => (one.Id, Kind: ShopRulesReader.ReadVariant(one.Document).ToleranceKind))
            .Where(one => one.Kind is not null && rules.Tolerances.All(kind => kind.Kind != one.Kind))
            .Select(one => new Fault("/tolerances", $"'{one.Id}' names the kind '{one.Kind}', which is not among them"));

    private static IEnumerable<Fault> Identity(VariantDocument variant)
    {
        var own = variant.Id.StartsWith(VariantDocument.OwnPrefix, StringComparison.Ordinal);
        if (!own && !VariantDocument.ClosedList.Contains(variant.Id))
        {
            yield return new Fault("/id", $"A shop's own kind of work begins with {VariantDocument.OwnPrefix}; the others are {string.Join(", ", VariantDocument.ClosedList)}");
        }

        if (own && variant.Name is null)
        {
            yield return new Fault("/name", "A shop's own kind of work has a name");
        }
    }

    private static IEnumerable<Fault> AtStage(VariantDocument variant, VariantStage one, int at)
    {
        var pointer = $"/stages/{at}";
        var before = variant.Stages.Take(at).Select(earlier => earlier.Stage).ToArray();
        if (before.Contains(one.Stage))
        {
            yield return new Fault($"{pointer}/stage", $"'{Word.Of(one.Stage)}' is there twice");
        }

        if (!BranchOf.TryGetValue(one.Stage, out var branch))
        {
            yield return new Fault($"{pointer}/stage", $"'{Word.Of(one.Stage)}' is in no route");
        }
        else if (one.Branch != branch)
        {
            yield return new Fault($"{pointer}/branch", $"'{Word.Of(one.Stage)}' belongs to {Word.Of(branch)}");
        }

        if (variant.Forbidden.Contains(one.Stage))
        {
            yield return new Fault($"{pointer}/stage", $"'{Word.Of(one.Stage)}' is forbidden too");
        }

        foreach (var (i, need) in one.Needs.Index().Where(need => !VariantDocument.IsEverythingBefore(need.Item)))
        {
            if (VariantDocument.NeedOf(need) is not { } named)
            {
                yield return new Fault($"{pointer}/needs/{i}", $"'{need}' is no stage, with ! where it cannot be tapped through, nor {VariantDocument.EverythingBefore}");
            }
            else if (!before.Contains(named.Stage))
            {
                yield return new Fault(
                    $"{pointer}/needs/{i}",
                    variant.Stages.Any(other => other.Stage == named.Stage) ? $"'{Word.Of(named.Stage)}' is not before '{Word.Of(one.Stage)}'" : $"'{Word.Of(named.Stage)}' is not in this route");
            }
        }
    }

    private static IEnumerable<Fault> Whole(VariantDocument variant)
    {
        bool Has(Stage stage) => variant.Stages.Any(one => one.Stage == stage);
        bool Requires(Stage stage) => variant.Stages.Any(one => one.Stage == stage && !one.Optional);

        var opens = variant.Stages.Any(one => StageTable.Of(one.Stage).OpensTheCase || one.Stage == Stage.Casing);
        (Stage Stage, bool Wanted, string Why)[] wanted =
        [
            (Stage.Intake, true, "every watch is taken in"),
            (Stage.HandedOver, true, "every watch is handed over"),
            (Stage.FinalControl, opens, "work on an open case ends with a final control"),
            (Stage.Casing, opens, "what is opened is closed"),
            (Stage.Ready, Has(Stage.FinalControl), "after the final control a watch is ready"),
            (Stage.ReturnUnrepaired, !opens && !Has(Stage.FinalControl), "a watch that nobody works on goes back unrepaired"),
        ];
        foreach (var (stage, _, why) in wanted.Where(one => one.Wanted && !Requires(one.Stage)))
        {
            yield return new Fault("/stages", $"'{Word.Of(stage)}' is missing, or optional: {why}");
        }

        if (variant.Stages is [{ Stage: not Stage.Intake }, ..] && Has(Stage.Intake))
        {
            yield return new Fault("/stages/0/stage", "A route begins with intake");
        }

        if (variant.Stages.Index().FirstOrDefault(one => one.Item.Stage == Stage.Queue) is { Item: not null, Index: var queue }
            && !variant.Stages.Any(one => one is { Optional: false, Branch: Branch.Movement or Branch.Case }))
        {
            yield return new Fault($"/stages/{queue}/stage", "The queue ends when work on movement or case begins, and nothing of that is required");
        }

        foreach (var (i, twice) in variant.Forbidden.Index().Where(one => variant.Forbidden.Take(one.Index).Contains(one.Item)))
        {
            yield return new Fault($"/forbidden/{i}", $"'{Word.Of(twice)}' is there twice");
        }

        if (Has(Stage.WaterTest) && variant.Statement is not null)
        {
            yield return new Fault("/statement", "It stands in the place of a water test, and the route has one");
        }
    }

    private static IEnumerable<Fault> Wear(VariantDocument variant)
    {
        if (variant.WornRate is { } window && window.Lowest >= window.Highest)
        {
            yield return new Fault("/wornRate/highest", "The highest rate lies above the lowest");
        }

        if (variant.Stages.Any(one => one.Stage == Stage.WearCheck) && variant.WornRate is null && variant.ToleranceKind is null)
        {
            yield return new Fault("/wornRate", "A worn check is judged by a window, or by that of a tolerance kind");
        }

        if (variant.Wear is not { } wear)
        {
            yield break;
        }

        (string Member, Duration Value)[] owed = [("owed", wear.Owed), ("owedAfterAFail", wear.OwedAfterAFail), ("owedAfterAStop", wear.OwedAfterAStop), ("owedWhenIntermittent", wear.OwedWhenIntermittent)];
        foreach (var (member, value) in owed.Where(one => one.Value < LeastWear || one.Value > MostWear))
        {
            yield return new Fault($"/wear/{member}", $"Wear owed is {LeastWear.TotalHours:0} hours to 60 days; {value.TotalHours:0.##} h is not");
        }

        if (wear.ForAPass < LeastWear || wear.ForAPass > wear.Owed)
        {
            yield return new Fault("/wear/forAPass", $"The wear that may pass is at least {LeastWear.TotalHours:0} h, and no more than is owed");
        }

        if (wear.FlaggedBeyond < wear.Owed)
        {
            yield return new Fault("/wear/flaggedBeyond", "What is owed is not flagged as a mean of days");
        }

        if (wear.Advised < wear.Owed)
        {
            yield return new Fault("/wear/advised", "A check that is advised is no shorter than the one that is owed");
        }

        if (wear.WoundDaily == true && variant.Quartz == true)
        {
            yield return new Fault("/wear/woundDaily", "A quartz watch is not wound");
        }
    }

    private static IEnumerable<Fault> Figures(VariantDocument variant)
    {
        if (variant.Quartz == true && variant.RefusedBelowAmplitudeDegrees is not null)
        {
            yield return new Fault("/refusedBelowAmplitudeDegrees", "A quartz watch has no amplitude");
        }

        if (variant.RefusedBelowAmplitudeDegrees is not null && variant.Stages.All(one => one.Stage != Stage.Regulation))
        {
            yield return new Fault("/refusedBelowAmplitudeDegrees", "The route has no regulation");
        }

        if (variant.TargetWorkingDaysBefore > variant.PromisedWorkingDays)
        {
            yield return new Fault("/targetWorkingDaysBefore", "The target would lie before the approval");
        }

        foreach (var (i, offer) in variant.Warranty.Index())
        {
            foreach (var fault in offer.Faults($"/warranty/{i}"))
            {
                yield return fault;
            }

            if (offer.OnlyIf is { } stage && variant.Stages.All(one => one.Stage != stage))
            {
                yield return new Fault($"/warranty/{i}/onlyIf", $"'{Word.Of(stage)}' is not in this route");
            }

            if (variant.Warranty.Take(i).Any(before => before.Line == offer.Line))
            {
                yield return new Fault($"/warranty/{i}/line", $"The line '{offer.Line}' is there twice");
            }
        }
    }

    private static IEnumerable<Fault> Lists(VariantDocument variant)
    {
        foreach (var (i, check) in variant.FinalChecks.Index())
        {
            if (string.IsNullOrWhiteSpace(check) || variant.FinalChecks.Take(i).Contains(check))
            {
                yield return new Fault($"/finalChecks/{i}", string.IsNullOrWhiteSpace(check) ? "A check has a name" : $"'{check}' is there twice");
            }
        }

        foreach (var (i, product) in variant.Products.Index().Where(one => variant.Products.Take(one.Index).Contains(one.Item)))
        {
            yield return new Fault($"/products/{i}", $"The product '{product.Product}' of {product.Source} is there twice");
        }

        foreach (var (i, calibre) in variant.UsualFor.Index().Where(one => !VariantDocument.CalibreKinds.Contains(one.Item) || variant.UsualFor.Take(one.Index).Contains(one.Item)))
        {
            yield return new Fault($"/usualFor/{i}", $"This is none, or one named before, of {string.Join(", ", VariantDocument.CalibreKinds)}");
        }
    }
}
