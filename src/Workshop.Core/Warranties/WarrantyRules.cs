using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.Warranties;

/// <summary>The shop's rule sets, and the one that holds where a warranty line names none.</summary>
public sealed record WarrantyRules
{
    public static readonly WarrantyRules Usual = new();

    /// <summary>The id of the rule set of every line that names none.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string Default { get; init; } = WarrantyRuleSet.ShopDefault.Id;

    [Length(1, 40)]
    public ImmutableArray<WarrantyRuleSet> RuleSets { get; init; } = [WarrantyRuleSet.ShopDefault];

    /// <summary>The rule set of an id; for none, and for one that is there no longer, the default.</summary>
    public WarrantyRuleSet Of(string? id) => Find(id) ?? Find(Default) ?? WarrantyRuleSet.ShopDefault;

    public bool Has(string id) => Find(id) is not null;

    /// <param name="pointer">Where these rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (!Has(Default))
        {
            yield return new Fault($"{pointer}/default", $"There is no rule set '{Default}'; there are {string.Join(", ", RuleSets.Select(one => one.Id))}");
        }

        foreach (var (i, one) in RuleSets.Index())
        {
            if (RuleSets.Take(i).Any(before => before.Id == one.Id))
            {
                yield return new Fault($"{pointer}/ruleSets/{i}/id", $"The rule set '{one.Id}' is there twice");
            }

            foreach (var fault in one.Faults($"{pointer}/ruleSets/{i}"))
            {
                yield return fault;
            }
        }
    }

    /// <summary>Warranty lines of a kind of work that name a rule set which the shop lacks; pointers are into the kind of work.</summary>
    public IEnumerable<Fault> Unknown(RouteDefinition route) => route.Warranty.Index()
        .Where(line => line.Item.Rules is { } named && !Has(named))
        .Select(line => new Fault($"/warranty/{line.Index}/rules", $"The shop has no rule set '{line.Item.Rules}'; it has {string.Join(", ", RuleSets.Select(one => one.Id))}"));

    private WarrantyRuleSet? Find(string? id) => RuleSets.FirstOrDefault(one => one.Id == id);
}
