using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;

namespace Workshop.Service.Features.Jobs;

/// <summary>Whether case and bracelet are to be polished. An unwanted polish cannot be undone, so that <c>ask</c> is no answer.</summary>
public enum PolishWish
{
    Yes,
    No,
    Ask,
}

public sealed record IntakeWishes
{
    public PolishWish? Polish { get; init; }

    public bool? OldPartsBack { get; init; }

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

    /// <summary>The watch as it came in: scratches, dents, running or not, crown and pushers.</summary>
    [StringLength(4_000)]
    public string? Condition { get; init; }

    [StringLength(4_000)]
    public string? Remarks { get; init; }

    public IntakeTerms? Terms { get; init; }

    /// <summary>The members that a later stage asks for and that are known.</summary>
    public IEnumerable<string> Known()
    {
        if (DeclaredValueMinor is not null)
        {
            yield return IntakeMember.DeclaredValue;
        }

        if (Terms?.AcceptedOn is not null)
        {
            yield return IntakeMember.Terms;
        }

        if (Wishes?.Polish is PolishWish.Yes or PolishWish.No)
        {
            yield return IntakeMember.Polish;
        }

        if (!string.IsNullOrWhiteSpace(Condition))
        {
            yield return IntakeMember.Condition;
        }
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
    }
}
