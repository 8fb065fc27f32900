using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Insurance;

/// <summary>Where declared values are summed up.</summary>
public enum InsuredWhere
{
    /// <summary>Everything that is in the house.</summary>
    House,

    Safe,

    /// <summary>In the house, and not in the safe.</summary>
    OutsideSafe,

    /// <summary>With outside firms.</summary>
    Firms,

    /// <summary>On the way to a firm.</summary>
    InTransit,

    /// <summary>A single watch, wherever it is.</summary>
    OneWatch,
}

/// <summary>What the shop's policy covers at most, by the policy itself.</summary>
/// <param name="Currency">ISO 4217.</param>
/// <param name="AmountMinor">In the smallest unit.</param>
public sealed record InsuranceLimit(InsuredWhere Where, string Currency, long AmountMinor);

/// <summary>The safe, the evening list, and what the shop's policy covers.</summary>
public sealed record InsuranceRules
{
    public static readonly InsuranceRules Usual = new();

    /// <summary>References of what counts as the safe.</summary>
    [Length(1, 20)]
    public ImmutableArray<string> SafePlaces { get; init; } = ["places/safe"];

    /// <summary>The workshop's own time at which the safe is to have been counted on an open day; where left out, so long before closing.</summary>
    public LocalTime? EveningListAt { get; init; }

    /// <summary>Time before the last closing of a day. Common practice.</summary>
    public Duration EveningListBefore { get; init; } = Duration.FromMinutes(30);

    /// <summary>Open days for which a parcel to a firm counts as on its way. Common practice, from memory.</summary>
    [Range(0, 60)]
    public int InTransitWorkingDays { get; init; } = 2;

    /// <summary>What the policy covers; none where left out.</summary>
    [Length(0, 50)]
    public ImmutableArray<InsuranceLimit> Limits { get; init; } = [];

    public bool IsSafe(string holder) => SafePlaces.Contains(holder);

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (EveningListBefore < Duration.Zero || EveningListBefore > Duration.FromHours(12))
        {
            yield return new Fault($"{pointer}/eveningListBefore", "This is from nothing to twelve hours");
        }

        foreach (var (i, place) in SafePlaces.Index().Where(one => !one.Item.Contains('/', StringComparison.Ordinal)))
        {
            yield return new Fault($"{pointer}/safePlaces/{i}", $"'{place}' is no reference such as places/safe");
        }

        foreach (var (i, limit) in Limits.Index())
        {
            if (limit.AmountMinor < 0)
            {
                yield return new Fault($"{pointer}/limits/{i}/amountMinor", "A sum is not less than nothing");
            }

            if (limit.Currency.Length != 3 || !limit.Currency.All(char.IsAsciiLetterUpper))
            {
                yield return new Fault($"{pointer}/limits/{i}/currency", "A currency is three capital letters, for example CHF");
            }

            if (Limits.Take(i).Any(other => other.Where == limit.Where && other.Currency == limit.Currency))
            {
                yield return new Fault($"{pointer}/limits/{i}", "The same place and currency are there twice");
            }
        }
    }
}
