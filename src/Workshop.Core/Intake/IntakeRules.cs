using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Core.Intake;

/// <summary>What the shop decides about its intake. JSON member of the rules document: <c>intake</c>.</summary>
public sealed record IntakeRules
{
    public const int DeliveredJobsForOwnFiguresUsually = 20;
    public const int LastJobsCountedUsually = 100;
    public const int OpenDaysUntilApprovalUsually = 4;

    /// <summary>
    /// ISO 3166-1 alpha-2, the country whose national telephone numbers are understood. Without it only numbers with a + are brought into
    /// international form; the others are compared by their last digits.
    /// </summary>
    [RegularExpression("[A-Z]{2}")]
    public string? Country { get; init; }

    /// <summary>Jobs of a kind of work that were delivered before the shop's own figures count for a date. Common practice.</summary>
    [Range(5, 10_000)]
    public int DeliveredJobsForOwnFigures { get; init; } = DeliveredJobsForOwnFiguresUsually;

    /// <summary>The last jobs of a kind of work that are counted: older ones were another shop. Common practice.</summary>
    [Range(5, 10_000)]
    public int LastJobsCounted { get; init; } = LastJobsCountedUsually;

    /// <summary>Open days from intake until a customer usually approves; counted where the shop's own figures do not speak yet. Common practice.</summary>
    [Range(0, 365)]
    public int OpenDaysUntilApproval { get; init; } = OpenDaysUntilApprovalUsually;

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (LastJobsCounted < DeliveredJobsForOwnFigures)
        {
            yield return new Fault($"{pointer}/lastJobsCounted", "Fewer jobs would be counted than are asked for before they count");
        }
    }
}
