using System.ComponentModel.DataAnnotations;

namespace Workshop.Core.Promises;

/// <summary>The shop's figures about promised dates.</summary>
public sealed record PromiseRules
{
    public static readonly PromiseRules Usual = new();

    /// <summary>
    /// Bench minutes that one working day gives one job, for the plain forecast; common practice, from memory: a job shares its bench
    /// with two or three others.
    /// </summary>
    [Range(1, 1_440)]
    public int BenchMinutesPerWorkingDay { get; init; } = 150;

    /// <summary>Elapsed days that the power reserve takes, whoever is at the bench. Common practice.</summary>
    [Range(0, 60)]
    public int ReserveElapsedDays { get; init; } = 2;

    /// <summary>Times the shop may move a promise of its own accord before it is asked whether it means it. Common practice.</summary>
    [Range(0, 100)]
    public int MovesAtMost { get; init; } = 2;

    /// <summary>Open days; a promise that moves by more is worth a message to the customer. Common practice.</summary>
    [Range(0, 500)]
    public int MessageBeyondWorkingDays { get; init; } = 3;
}
