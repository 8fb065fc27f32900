using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;

namespace Workshop.Service.Features.Jobs;

public sealed record IntakeWishes
{
    public PolishWish? Polish { get; init; }

    public bool? OldPartsBack { get; init; }

    /// <summary>False: the customer does not want it tested for tightness; absent where nobody asked.</summary>
    public bool? WaterTest { get; init; }

    /// <summary>A day the watch is needed by, for example a wedding.</summary>
    public LocalDate? FixedDate { get; init; }
}

public sealed record IntakeTerms
{
    /// <summary>When the customer signed or agreed to the shop's terms.</summary>
    public LocalDate? AcceptedOn { get; init; }
}

/// <summary>The part of a job that a person fills in and edits: what was agreed at the desk.</summary>
public record IntakeMembers
{
    /// <summary>Minor units of the currency.</summary>
    [Range(0, 1_000_000_000_000)]
    public long? DeclaredValueMinor { get; init; }

    /// <summary>ISO 4217.</summary>
    [RegularExpression("[A-Z]{3}")]
    public string? Currency { get; init; }

    /// <summary>Why the declared value is another one now; a value once agreed is not changed without it.</summary>
    [StringLength(500)]
    public string? DeclaredValueNote { get; init; }

    public IntakeWishes? Wishes { get; init; }

    /// <summary>The watch as it came in, in words, beside or instead of <see cref="ConditionGrid"/>.</summary>
    [StringLength(4_000)]
    public string? Condition { get; init; }

    /// <summary>The watch as it came in, place by place; a place that is not in it was not looked at.</summary>
    [Length(0, 10)]
    public ImmutableArray<PlaceCondition> ConditionGrid { get; init; } = [];

    public ArrivalNotes? Arrival { get; init; }

    /// <summary>The number in the shop's own paper book.</summary>
    [StringLength(60)]
    public string? OwnNumber { get; init; }

    /// <summary>The code read back from the label on the watch: proof that it is there and can be read.</summary>
    [StringLength(20)]
    public string? LabelScannedBack { get; init; }

    [StringLength(4_000)]
    public string? Remarks { get; init; }

    public IntakeTerms? Terms { get; init; }

    /// <summary>The members that a later stage asks for and that are known.</summary>
    public IEnumerable<string> Known()
    {
        (string Member, bool Known)[] all =
        [
            (IntakeMember.DeclaredValue, DeclaredValueMinor is not null),
            (IntakeMember.Terms, Terms?.AcceptedOn is not null),
            (IntakeMember.Polish, Wishes?.Polish is PolishWish.Yes or PolishWish.No),
            (IntakeMember.OldPartsBack, Wishes?.OldPartsBack is not null),
            (IntakeMember.Condition, !string.IsNullOrWhiteSpace(Condition) || ConditionGrid.Any(one => one.Condition != ConditionWord.NotLooked)),
            (IntakeMember.Running, Arrival?.Running is ArrivalRun.Running or ArrivalRun.Stopped),
            (IntakeMember.Photos, Arrival?.PhotosTaken > 0),
            (IntakeMember.LabelScannedBack, LabelScannedBack is not null),
        ];
        return all.Where(one => one.Known).Select(one => one.Member);
    }

    /// <param name="today">In the workshop's own calendar.</param>
    public IEnumerable<Fault> Faults(LocalDate today)
    {
        if (DeclaredValueMinor is null != Currency is null)
        {
            yield return new Fault(Currency is null ? "/currency" : "/declaredValueMinor", "A declared value is an amount and its currency");
        }

        if (Terms?.AcceptedOn > today)
        {
            yield return new Fault("/terms/acceptedOn", $"This day is to come; today is {today:uuuu-MM-dd}");
        }

        foreach (var (i, one) in ConditionGrid.Index().Where(pair => ConditionGrid.Take(pair.Index).Any(before => before.Place == pair.Item.Place)))
        {
            yield return new Fault($"/conditionGrid/{i}/place", "Each place is said once");
        }

        foreach (var fault in Arrival?.Faults("/arrival") ?? [])
        {
            yield return fault;
        }
    }
}
